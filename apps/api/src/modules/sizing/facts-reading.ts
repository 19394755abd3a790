import type { CircuitFacts, ComponentFacts, ControlFacts, FixtureFacts, NeighbourFacts } from '@repo/calc';
import type { Dependency, FactKind } from './dependency.js';
import type { Facts, FactTables, InstalledRow } from './fact-tables.js';

/** It has no part in how much oil a circuit takes. */
const TAKES_NONE: ReadonlySet<string> = new Set([
  'gauge',
  'pressure-switch',
  'relief-valve',
  'relay',
  'power-supply',
  'reservoir',
]);
const takesOil = ({ kind }: InstalledRow): boolean => !TAKES_NONE.has(kind);

export type Basis = 'as-left' | 'target';
export interface SettingsInUse {
  basis: Basis | 'none';
  revision: number | null;
  on: Date | null;
}
/** Where a circuit is, and what its proof is about, beside the facts themselves. */
export interface CircuitPlace {
  circuitId: string;
  circuitName: string;
  customerId: string;
  customerName: string;
  machineId: string;
  machineName: string;
  siteId: string;
  siteName: string;
  place: string;
  fixtureName: string | null;
  fixtureSince: Date | null;
}

/**
 * Facts as one proof looks them up. Whatever is asked for is noted, found or not: that is what the proof stands on.
 */
export class FactsReading {
  private readonly noted = new Map<string, Dependency>();

  constructor(private readonly facts: Facts) {}

  get dependencies(): Dependency[] {
    return [...this.noted.values()];
  }

  private look<Kind extends FactKind>(entity: Kind, id: string): FactTables[Kind] | undefined {
    this.noted.set(`${entity} ${id}`, { entity, id });
    return this.facts[entity].get(id);
  }

  /** What a row names by a foreign key is there. */
  private require<Kind extends FactKind>(entity: Kind, id: string): FactTables[Kind] {
    const found = this.look(entity, id);
    if (found === undefined) throw new Error(`the facts lack ${entity} ${id}`);
    return found;
  }

  /** What a list of circuits shows of one beside its proof. */
  place(circuitId: string): CircuitPlace {
    const circuit = this.require('circuit', circuitId);
    const machine = this.require('machine', circuit.machineId);
    const site = this.require('site', machine.siteId);
    const fitting = this.look('fitting-of-station', circuit.facts.stationId);
    return {
      circuitId,
      circuitName: circuit.facts.name,
      customerId: circuit.customerId,
      customerName: this.require('customer', circuit.customerId).name,
      machineId: circuit.machineId,
      machineName: machine.facts.name,
      siteId: machine.siteId,
      siteName: site.name,
      place: site.place,
      fixtureName: this.fixtureOn(circuit.facts.stationId)?.name ?? null,
      fixtureSince: fitting?.validFrom ?? null,
    };
  }

  /** All that is recorded of one circuit, and of what its proof looks at beside it. */
  circuit(circuitId: string, basis: Basis, organisationId: string): { facts: CircuitFacts; settings: SettingsInUse } {
    const row = this.require('circuit', circuitId);
    const fitting = this.look('fitting-of-station', row.facts.stationId);
    const { inUse, isAsLeft, readings, readAt, settings } = this.settings(circuitId, basis);
    const asked = this.require('margins-asked', organisationId);
    const facts: CircuitFacts = {
      circuit: row.facts,
      powerUnit: this.require('power-unit', row.powerUnitId),
      components: [
        ...this.components('components-of-circuit', circuitId),
        ...this.components('components-of-power-unit', row.powerUnitId),
      ],
      fixture: this.fixtureOn(row.facts.stationId),
      operations: fitting === undefined ? [] : (this.look('operations-of-fixture', fitting.fixtureId) ?? []),
      settings: { inUse, isAsLeft, readings },
      neighbours: (this.look('circuits-of-power-unit', row.powerUnitId) ?? [])
        .filter((id) => id !== circuitId)
        .map((id) => this.neighbour(id, readAt)),
      control: this.control(row.machineId),
      leastProbability: asked.leastProbability,
      marginsAsked: asked.margins,
    };
    return { facts, settings };
  }

  /** The control of a machine with every circuit of it. */
  control(machineId: string): ControlFacts {
    const { facts: machine } = this.require('machine', machineId);
    const { signals, wires, mCodes } = this.look('control-of-machine', machineId) ?? NOTHING;
    const circuits = (this.look('circuits-of-machine', machineId) ?? []).map((id) => {
      const { seenByControl, facts } = this.require('circuit', id);
      const valve = (this.look('components-of-circuit', id) ?? []).find(({ kind }) => kind === 'directional-valve');
      const coilPowerW = valve === undefined ? null : (this.component(valve, 'circuit').figures.coilPower ?? null);
      return {
        id,
        name: facts.name,
        stationId: facts.stationId,
        ...seenByControl,
        hasValve: valve !== undefined,
        coilPowerW,
      };
    });
    return { machine, circuits, signals, wires, mCodes };
  }

  /** @param readAt when the readings were taken that speak of it; null: never */
  private neighbour(circuitId: string, readAt: Date | null): NeighbourFacts {
    const { id, name, stationId } = this.require('circuit', circuitId).facts;
    return {
      id,
      name,
      fixture: this.fixtureOn(stationId),
      isFixtureAsRead: readAt === null ? null : this.takesOilAsBefore(circuitId, stationId, readAt),
      components: this.components('components-of-circuit', circuitId),
    };
  }

  /** The fixture with the clamps that it had, and what is fitted to the circuit, have been there since before an instant. */
  private takesOilAsBefore(circuitId: string, stationId: string, instant: Date): boolean {
    const fitting = this.look('fitting-of-station', stationId);
    const changedAt = fitting && this.require('fixture', fitting.fixtureId).elementsChangedAt;
    const fitted = this.look('components-of-circuit', circuitId) ?? [];
    const since = [fitting?.validFrom, changedAt, ...fitted.filter(takesOil).map(({ validFrom }) => validFrom)];
    return since.every((from) => from == null || from <= instant);
  }

  private fixtureOn(stationId: string): FixtureFacts | null {
    const fitting = this.look('fitting-of-station', stationId);
    return fitting === undefined ? null : this.require('fixture', fitting.fixtureId).facts;
  }

  private components(kind: 'components-of-circuit' | 'components-of-power-unit', id: string): ComponentFacts[] {
    const place = kind === 'components-of-circuit' ? 'circuit' : 'power-unit';
    return (this.look(kind, id) ?? []).map((row) => this.component(row, place));
  }

  private component(row: InstalledRow, place: ComponentFacts['place']): ComponentFacts {
    const type = this.require('component-type', row.componentTypeId);
    const figures = Object.entries({ ...type.figures, ...row.figures }).map(([name, { si }]) => [name, si] as const);
    return {
      id: row.id,
      place,
      kind: row.kind,
      name: `${row.designation} ${type.name}`,
      lineFunctions: row.lineFunctions,
      sensing: row.sensing,
      isBeyondShutOff: row.isBeyondShutOff,
      figures: Object.fromEntries(figures),
    };
  }

  /** What stands at the machine goes before what was released, where it is asked for; a target is looked up only where it counts. */
  private settings(circuitId: string, basis: Basis) {
    const asLeft = this.look('setup-records-of-circuit', circuitId);
    const isAsLeft = basis === 'as-left' && asLeft !== undefined;
    const chosen = isAsLeft ? asLeft : this.look('target-settings-of-circuit', circuitId);
    const used = chosen === undefined ? 'none' : isAsLeft ? 'as-left' : 'target';
    const settings: SettingsInUse = { basis: used, revision: chosen?.revision ?? null, on: chosen?.at ?? null };
    const readings = asLeft?.readings ?? null;
    return { inUse: chosen?.settings ?? null, isAsLeft, readings, readAt: asLeft?.at ?? null, settings };
  }
}

const NOTHING: FactTables['control-of-machine'] = { signals: [], wires: [], mCodes: [] };
