import { Injectable } from '@nestjs/common';
import {
  CIRCUIT_FIGURES,
  ELEMENT_FIGURES,
  FIXTURE_FIGURES,
  MACHINE_FIGURES,
  pickControlFacts,
  pickFacts,
  POWER_UNIT_FIGURES,
} from '@repo/calc/figures';
import type { FixtureElementFacts, FixtureFacts, OperationFacts, ReadingFacts, SettingsFacts } from '@repo/calc';
import { controlBehaviour, marginsAsked } from '../../documents/asked-of-circuits.js';
import { componentFigures } from '../../documents/component-figures.js';
import { fixtureElements, type StoredElement } from '../../documents/fixture-elements.js';
import { computedForProofs } from '../../documents/operation-cut.js';
import { Db, Prisma, selectFacts } from '../../platform/db/index.js';
import { groupBy } from '../../platform/group-by.js';
import type { CircuitRow, Facts, FactTables, Fitting, InstalledRow, MachineRow, Revision } from './fact-tables.js';

/** As a query gives it: documents are not read yet. */
type Unread<Row, Document extends keyof Row> = Omit<Row, Document> & Record<Document, unknown>;
type CircuitFactsRow = Omit<CircuitRow, 'facts' | 'seenByControl'> & CircuitRow['facts'] & CircuitRow['seenByControl'];
type FixtureRow = Unread<FixtureFacts, 'elements'> & Pick<FactTables['fixture'], 'elementsChangedAt'>;
type MachineFactsRow = Unread<MachineRow['facts'], 'behaviour'> & Omit<MachineRow, 'facts'>;
type OperationRow = OperationFacts & { fixtureId: string; computed: unknown };
type SettingsRow = Revision & SettingsFacts & { circuitId: string };
type SetupRow = SettingsRow &
  Omit<ReadingFacts, keyof SettingsFacts | 'gaugeClass' | 'fixtureElements'> & {
    gaugeClass: string;
    fixtureElements: unknown;
  };

const SETTINGS = Prisma.raw(`
  circuit_id AS "circuitId", revision, setting_pa AS "settingPa", setting_tolerance_pa AS "settingTolerancePa",
  set_point_pa AS "setPointPa", reset_point_pa AS "resetPointPa", air_pressure_pa AS "airPressurePa",
  pump_restart_pa AS "pumpRestartPa", pump_restart_tolerance_pa AS "pumpRestartTolerancePa"`);

const listed = <T extends { id: string }>(rows: readonly T[]): string[] => rows.map(({ id }) => id);
function byId<T extends { id: string }, V>(rows: readonly T[], toValue: (row: T) => V): Map<string, V> {
  return new Map(rows.map((row) => [row.id, toValue(row)]));
}
function listsBy<T, V>(rows: readonly T[], key: (row: T) => string | null, toValue: (row: T) => V): Map<string, V[]> {
  const lists = new Map<string, V[]>();
  for (const [id, group] of groupBy(rows, key)) if (id !== null) lists.set(id, group.map(toValue));
  return lists;
}

/** Reads all that the proofs of circuits can look up, as on one instant: fourteen queries, however many circuits. */
@Injectable()
export class FactsRepository {
  constructor(private readonly db: Db) {}

  get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /** All that bears on some circuits: their machines whole, with every circuit of these. */
  async ofCircuits(circuitIds: readonly string[], asOn: Date): Promise<Facts> {
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      SELECT DISTINCT machine_id AS id FROM circuits
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${circuitIds}::uuid[])`;
    return this.ofMachines(listed(rows), asOn, circuitIds);
  }

  /** @param asked circuits that are read even if they are archived */
  async ofMachines(machineIds: readonly string[], asOn: Date, asked: readonly string[] = []): Promise<Facts> {
    const { tx } = this.db;
    const o = this.organisationId;
    const organisation = await tx.organisation.findUniqueOrThrow({
      where: { id: o },
      select: { marginsAsked: true, leastProbability: true },
    });
    const machines = await tx.$queryRaw<MachineFactsRow[]>`
      SELECT id, site_id AS "siteId", name, ${selectFacts(MACHINE_FIGURES)},
             control_behaviour AS behaviour
      FROM machines WHERE organisation_id = ${o}::uuid AND id = ANY (${machineIds}::uuid[])`;
    const sites = await tx.$queryRaw<{ id: string; name: string; place: string }[]>`
      SELECT id, name, place FROM sites
      WHERE organisation_id = ${o}::uuid AND id = ANY (${machines.map(({ siteId }) => siteId)}::uuid[])`;
    const circuits = await tx.$queryRaw<(CircuitFactsRow & { isThere: boolean })[]>`
      SELECT id, name, customer_id AS "customerId", machine_id AS "machineId", power_unit_id AS "powerUnitId",
             station_id AS "stationId", ${selectFacts(CIRCUIT_FIGURES)},
             created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn}) AS "isThere"
      FROM circuits
      WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[])
        AND (id = ANY (${asked}::uuid[]) OR (created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})))
      ORDER BY name, id`;
    const there = circuits.filter(({ isThere }) => isThere);
    const powerUnits = await tx.$queryRaw<(FactTables['power-unit'] & { id: string })[]>`
      SELECT id, drive, ${selectFacts(POWER_UNIT_FIGURES)}
      FROM power_units WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[])`;
    const customers = await tx.$queryRaw<{ id: string; name: string }[]>`
      SELECT id, name FROM customers
      WHERE organisation_id = ${o}::uuid AND id = ANY (${circuits.map(({ customerId }) => customerId)}::uuid[])`;
    return {
      'margins-asked': new Map([
        [
          o,
          {
            margins: marginsAsked.read(organisation.marginsAsked),
            leastProbability: organisation.leastProbability,
          },
        ],
      ]),
      machine: byId(machines, ({ siteId, behaviour, ...facts }) => ({
        siteId,
        facts: { ...facts, behaviour: controlBehaviour.read(behaviour, facts.name) },
      })),
      site: byId(sites, ({ name, place }) => ({ name, place })),
      customer: byId(customers, ({ name }) => ({ name })),
      'circuits-of-machine': listsBy(
        there,
        ({ machineId }) => machineId,
        ({ id }) => id,
      ),
      'circuits-of-power-unit': listsBy(
        there,
        ({ powerUnitId }) => powerUnitId,
        ({ id }) => id,
      ),
      circuit: byId(circuits, toCircuitRow),
      'power-unit': byId(powerUnits, ({ id, ...facts }) => facts),
      ...(await this.components(circuits, powerUnits, asOn)),
      ...(await this.fixtures(
        circuits.map(({ stationId }) => stationId),
        asOn,
      )),
      'control-of-machine': await this.controls(machineIds, asOn),
      ...(await this.settings(listed(circuits), asOn)),
    };
  }

  private async components(circuits: readonly { id: string }[], powerUnits: readonly { id: string }[], asOn: Date) {
    const { tx } = this.db;
    const o = this.organisationId;
    const installed = await tx.$queryRaw<
      (Unread<InstalledRow, 'figures'> & { circuitId: string | null; powerUnitId: string | null })[]
    >`
      SELECT i.id, i.component_type_id AS "componentTypeId", i.circuit_id AS "circuitId", i.power_unit_id AS "powerUnitId",
             t.kind, i.designation, i.line_functions AS "lineFunctions", i.sensing,
             i.is_beyond_shut_off AS "isBeyondShutOff", i.figures, i.valid_from AS "validFrom"
      FROM installed_components i
      JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
      WHERE i.organisation_id = ${o}::uuid
        AND (i.circuit_id = ANY (${listed(circuits)}::uuid[]) OR i.power_unit_id = ANY (${listed(powerUnits)}::uuid[]))
        AND i.valid_from <= ${asOn} AND (i.valid_to IS NULL OR i.valid_to > ${asOn})
      ORDER BY i.designation, i.id`;
    const typeIds = [...new Set(installed.map(({ componentTypeId }) => componentTypeId))];
    const types = await tx.$queryRaw<(Unread<FactTables['component-type'], 'figures'> & { id: string })[]>`
      SELECT id, name, figures FROM component_types WHERE organisation_id = ${o}::uuid AND id = ANY (${typeIds}::uuid[])`;
    const toRow = ({ circuitId, powerUnitId, figures, ...row }: (typeof installed)[number]): InstalledRow => ({
      ...row,
      figures: componentFigures.read(figures, row.designation),
    });
    return {
      'components-of-circuit': listsBy(installed, ({ circuitId }) => circuitId, toRow),
      'components-of-power-unit': listsBy(installed, ({ powerUnitId }) => powerUnitId, toRow),
      'component-type': byId(types, ({ name, figures }) => ({ name, figures: componentFigures.read(figures, name) })),
    };
  }

  private async fixtures(stationIds: readonly string[], asOn: Date) {
    const { tx } = this.db;
    const o = this.organisationId;
    const fittings = await tx.$queryRaw<(Fitting & { id: string })[]>`
      SELECT station_id AS id, fixture_id AS "fixtureId", valid_from AS "validFrom"
      FROM fixture_fittings
      WHERE organisation_id = ${o}::uuid AND station_id = ANY (${stationIds}::uuid[])
        AND valid_from <= ${asOn} AND (valid_to IS NULL OR valid_to > ${asOn})`;
    const fixtureIds = [...new Set(fittings.map(({ fixtureId }) => fixtureId))];
    const fixtures = await tx.$queryRaw<FixtureRow[]>`
      SELECT id, name, ${selectFacts(FIXTURE_FIGURES)}, elements, elements_changed_at AS "elementsChangedAt"
      FROM fixtures WHERE organisation_id = ${o}::uuid AND id = ANY (${fixtureIds}::uuid[])`;
    const operations = await tx.$queryRaw<OperationRow[]>`
      SELECT id, fixture_id AS "fixtureId", number, name, required_pressure_pa AS "requiredPressurePa",
             required_basis AS "requiredBasis", workpiece_limit_pa AS "workpieceLimitPa",
             workpiece_not_limiting AS "workpieceNotLimiting", cut -> 'computed' AS computed
      FROM operations
      WHERE organisation_id = ${o}::uuid AND fixture_id = ANY (${fixtureIds}::uuid[])
        AND valid_from <= ${asOn} AND (valid_to IS NULL OR valid_to > ${asOn})
      ORDER BY number, id`;
    const withElements = fixtures.map(({ elements, ...fixture }) => ({
      ...fixture,
      stored: fixtureElements.read(elements, fixture.name),
    }));
    const limited = new Set(withElements.filter(({ stored }) => stored.some(isLimitedLocator)).map(({ id }) => id));
    return {
      'fitting-of-station': byId(fittings, ({ fixtureId, validFrom }) => ({ fixtureId, validFrom })),
      fixture: byId(withElements, ({ stored, elementsChangedAt, ...fixture }) => ({
        facts: { ...fixture, elements: stored.map(toElementFacts) },
        elementsChangedAt,
      })),
      'operations-of-fixture': listsBy(
        operations,
        ({ fixtureId }) => fixtureId,
        (operation) => toOperation(operation, limited.has(operation.fixtureId)),
      ),
    };
  }

  private async controls(machineIds: readonly string[], asOn: Date): Promise<Facts['control-of-machine']> {
    const { tx } = this.db;
    const o = this.organisationId;
    type OfMachine<T> = T & { machineId: string };
    type Control = FactTables['control-of-machine'];
    const signals = await tx.$queryRaw<OfMachine<Control['signals'][number]>[]>`
      SELECT id, machine_id AS "machineId", circuit_id AS "circuitId", direction, name, acts_on AS "actsOn", suppression,
             suppression_voltage_v AS "suppressionVoltageV", is_polarity_right AS "isPolarityRight",
             is_held_on AS "isHeldOn"
      FROM signals
      WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[]) AND circuit_id IS NOT NULL
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY name, id`;
    const wires = await tx.$queryRaw<Control['wires'][number][]>`
      SELECT id, signal_id AS "signalId", number, cross_section_m2 AS "crossSectionM2", length_m AS "lengthM",
             insulation_voltage_v AS "insulationVoltageV", protection_a AS "protectionA",
             conductor_limit_a AS "conductorLimitA", highest_in_cable_v AS "highestInCableV"
      FROM wires
      WHERE organisation_id = ${o}::uuid AND signal_id = ANY (${listed(signals)}::uuid[])
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY number, id`;
    const mCodes = await tx.$queryRaw<OfMachine<Control['mCodes'][number]>[]>`
      SELECT id, machine_id AS "machineId", station_id AS "stationId", code, action, waits_for_answer AS "waitsForAnswer"
      FROM m_codes
      WHERE organisation_id = ${o}::uuid AND machine_id = ANY (${machineIds}::uuid[])
        AND created_at <= ${asOn} AND (archived_at IS NULL OR archived_at > ${asOn})
      ORDER BY code, id`;
    const machineOf = new Map(signals.map(({ id, machineId }) => [id, machineId]));
    const plain = <T>({ machineId, ...row }: OfMachine<T>) => row;
    const signalsOf = listsBy(signals, ({ machineId }) => machineId, plain);
    const wiresOf = listsBy(
      wires,
      ({ signalId }) => machineOf.get(signalId) ?? null,
      (wire) => wire,
    );
    const mCodesOf = listsBy(mCodes, ({ machineId }) => machineId, plain);
    const controlOf = (id: string): Control => ({
      signals: signalsOf.get(id) ?? [],
      wires: wiresOf.get(id) ?? [],
      mCodes: mCodesOf.get(id) ?? [],
    });
    return new Map(machineIds.map((id) => [id, controlOf(id)]));
  }

  private async settings(circuitIds: readonly string[], asOn: Date) {
    const { tx } = this.db;
    const o = this.organisationId;
    const targets = await tx.$queryRaw<SettingsRow[]>`
      SELECT DISTINCT ON (circuit_id) ${SETTINGS}, released_at AS at
      FROM target_settings
      WHERE organisation_id = ${o}::uuid AND circuit_id = ANY (${circuitIds}::uuid[]) AND released_at <= ${asOn}
      ORDER BY circuit_id, revision DESC`;
    // With what was fitted to the circuit or its power unit since, or taken away: what was read before says nothing of it.
    const setups = await tx.$queryRaw<SetupRow[]>`
      SELECT latest.*, (
        SELECT COALESCE(jsonb_agg(jsonb_build_object('kind', t.kind, 'lineFunctions', i.line_functions)
                                  ORDER BY t.kind, i.designation, i.id), '[]')
        FROM installed_components i
        JOIN component_types t ON t.organisation_id = i.organisation_id AND t.id = i.component_type_id
        WHERE i.organisation_id = ${o}::uuid AND (i.circuit_id = c.id OR i.power_unit_id = c.power_unit_id)
          AND ((i.valid_from > latest.at AND i.valid_from <= ${asOn})
               OR (i.valid_to > latest.at AND i.valid_to <= ${asOn}))
      ) AS changed
      FROM (
      SELECT DISTINCT ON (circuit_id) ${SETTINGS}, measured_at AS at, fixture_id AS "fixtureId", fixture_elements AS "fixtureElements", decay_pa AS "decayPa",
             decay_duration_s AS "decayDurationS", gauge_span_pa AS "gaugeSpanPa", gauge_class AS "gaugeClass",
             lowest_while_shared_pa AS "lowestWhileSharedPa", clamp_time_s AS "clampTimeS",
             contact_time_s AS "contactTimeS", unclamp_time_s AS "unclampTimeS", time_tolerance_s AS "timeToleranceS",
             oil_temperature_k AS "oilTemperatureK"
      FROM setup_records
      WHERE organisation_id = ${o}::uuid AND circuit_id = ANY (${circuitIds}::uuid[]) AND measured_at <= ${asOn}
      ORDER BY circuit_id, measured_at DESC, revision DESC) latest
      JOIN circuits c ON c.organisation_id = ${o}::uuid AND c.id = latest."circuitId"`;
    return {
      'target-settings-of-circuit': new Map(
        targets.map((row) => [row.circuitId, { ...toRevision(row), settings: toSettings(row) }]),
      ),
      'setup-records-of-circuit': new Map(
        setups.map((row) => [
          row.circuitId,
          { ...toRevision(row), settings: toSettings(row), readings: toReadings(row) },
        ]),
      ),
    };
  }
}

const toCircuitRow = (row: CircuitFactsRow): CircuitRow => ({
  customerId: row.customerId,
  machineId: row.machineId,
  powerUnitId: row.powerUnitId,
  seenByControl: pickControlFacts(CIRCUIT_FIGURES, row),
  facts: { id: row.id, name: row.name, stationId: row.stationId, ...pickFacts(CIRCUIT_FIGURES, row) },
});

const isLimitedLocator = ({ kind, si }: StoredElement): boolean => kind === 'locator' && si.forceLimitN !== null;

/** Of what was computed, a proof looks up what no pressure holds, and what supports bear. */
function toOperation({ fixtureId: _, computed: stored, ...row }: OperationRow, hasLimits: boolean): OperationFacts {
  if (row.requiredBasis === 'typed') return row;
  const computed = computedForProofs.read(stored, `operation ${row.number}`);
  if (computed === null) return row;
  const { status, governingCase, supportLoads, spread, locatorLimit } = computed;
  return {
    ...row,
    ...(status === 'not-held' ? { unheldCase: governingCase ?? '' } : {}),
    ...(supportLoads === undefined ? {} : { supportLoads }),
    ...(locatorLimit ? { locatorLimitPa: locatorLimit.highestPressurePa, limitingLocator: locatorLimit.name } : {}),
    // Computed before it was asked what locators bear.
    ...(locatorLimit === undefined && hasLimits ? { locatorLimitPa: null } : {}),
    ...(spread ? { specificForceSpreadPa: spread.specificForcePa, frictionSpreadPa: spread.frictionPa } : {}),
  };
}

const toRevision = ({ revision, at }: Revision): Revision => ({ revision, at });
const toSettings = (row: SettingsFacts): SettingsFacts => ({
  settingPa: row.settingPa,
  settingTolerancePa: row.settingTolerancePa,
  setPointPa: row.setPointPa,
  resetPointPa: row.resetPointPa,
  airPressurePa: row.airPressurePa,
  pumpRestartPa: row.pumpRestartPa,
  pumpRestartTolerancePa: row.pumpRestartTolerancePa,
});
const toReadings = (row: SetupRow): ReadingFacts => ({
  settingPa: row.settingPa,
  airPressurePa: row.airPressurePa,
  setPointPa: row.setPointPa,
  fixtureId: row.fixtureId,
  fixtureElements:
    row.fixtureElements === null
      ? null
      : fixtureElements.read(row.fixtureElements, `setup record ${row.revision}`).map(toElementFacts),
  decayPa: row.decayPa,
  decayDurationS: row.decayDurationS,
  gaugeSpanPa: row.gaugeSpanPa,
  gaugeClass: row.gaugeClass === '' ? null : Number(row.gaugeClass),
  lowestWhileSharedPa: row.lowestWhileSharedPa,
  clampTimeS: row.clampTimeS,
  contactTimeS: row.contactTimeS,
  unclampTimeS: row.unclampTimeS,
  timeToleranceS: row.timeToleranceS,
  oilTemperatureK: row.oilTemperatureK,
  changed: row.changed,
});

const toElementFacts = ({ si, ...element }: StoredElement): FixtureElementFacts => ({
  id: element.id,
  kind: element.kind,
  name: element.name,
  quantity: element.quantity,
  ...pickFacts(ELEMENT_FIGURES, { ...element, ...si }),
});
