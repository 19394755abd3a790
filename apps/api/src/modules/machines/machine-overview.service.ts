import { Injectable } from '@nestjs/common';
import {
  toPressureLadder,
  type CircuitOverview,
  type FittedComponent,
  type FixtureFitting,
  type InputOf,
  type InstalledComponent,
  type MachineOverview,
  type MachineSetup,
  type routes,
  type Status,
} from '@repo/contracts';
import { nowOnAnyClock } from '../../platform/clock/tolerance.js';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { FixtureFittingsService } from '../fixtures/index.js';
import { OperationsService } from '../operations/index.js';
import { PowerUnitsService } from '../power-units/index.js';
import { SetupRecordsService, TargetSettingsService } from '../settings/index.js';
import { CircuitProofsService } from '../sizing/index.js';
import { StandingsService } from '../standings/index.js';
import { MachinesService } from './machines.service.js';

type Machines = typeof routes.machines;
const ORDER: readonly Status[] = ['fails', 'unproven', 'marginal', 'holds'];

function fittedOn(fittings: readonly FixtureFitting[], stationId: string, asOn: Date): CircuitOverview['fixture'] {
  const ofStation = fittings.filter((one) => one.stationId === stationId);
  const index = ofStation.findIndex(
    (one) => new Date(one.validFrom) <= asOn && (one.validTo === null || new Date(one.validTo) > asOn),
  );
  const fitted = ofStation[index];
  if (fitted === undefined) return null;
  const { id, fixtureId, fixtureName, validFrom, reason } = fitted;
  // Newest first: the one behind it is the one before it.
  const previousName = ofStation[index + 1]?.fixtureName ?? null;
  return { fittingId: id, fixtureId, name: fixtureName, validFrom, reason, previousName };
}

function toFitted(component: InstalledComponent): FittedComponent {
  const { id, circuitId, kind, designation, componentTypeName, serial, lot, effectiveFigures } = component;
  const rating = effectiveFigures['ratedPressure'];
  // Where the figure was taken from is the integrator's own note.
  const ratedPressure = rating === undefined ? null : { value: rating.value, unit: rating.unit, digits: rating.digits };
  return { id, circuitId, kind, designation, componentTypeName, serial, lot, ratedPressure };
}

/** A machine whole, as on a day: what is fitted, how it is set, and whether that is right. */
@Injectable()
export class MachineOverviewService {
  constructor(
    private readonly machines: MachinesService,
    private readonly circuits: CircuitsService,
    private readonly powerUnits: PowerUnitsService,
    private readonly installed: InstalledComponentsService,
    private readonly fittings: FixtureFittingsService,
    private readonly operations: OperationsService,
    private readonly targets: TargetSettingsService,
    private readonly setups: SetupRecordsService,
    private readonly circuitProofs: CircuitProofsService,
    private readonly standings: StandingsService,
  ) {}

  async overview(id: string, query: InputOf<Machines['overview']>['query']): Promise<MachineOverview> {
    const machine = await this.machines.get(id);
    const asOn = query.asOn === undefined ? nowOnAnyClock() : new Date(query.asOn);
    const circuits = await this.circuits.listOfMachine(id);
    const circuitIds = circuits.map((circuit) => circuit.id);
    const fittings = await this.fittings.listOfMachine(id);
    const proved = await this.circuitProofs.compute(circuitIds, query.basis, asOn);
    const ladders = new Map(proved.map((ladder) => [ladder.place.circuitId, ladder]));
    const fixtureIds = [...ladders.values()].flatMap(({ facts: { fixture } }) =>
      fixture === null ? [] : [fixture.id],
    );
    const operations = await this.operations.listOfFixtures(fixtureIds, asOn);
    const targets = await this.targets.latest(circuitIds, asOn);
    const setups = await this.setups.latest(circuitIds, asOn);
    const overviews = circuits.flatMap((circuit): CircuitOverview[] => {
      const ladder = ladders.get(circuit.id);
      if (ladder === undefined) return [];
      return [
        {
          circuit,
          fixture: fittedOn(fittings, circuit.stationId, asOn),
          operations: operations.filter((one) => one.fixtureId === ladder.facts.fixture?.id),
          settings: { ...ladder.settings, on: ladder.settings.on?.toISOString() ?? null },
          target: targets.find((one) => one.circuitId === circuit.id) ?? null,
          asLeft: setups.find((one) => one.circuitId === circuit.id) ?? null,
          ladder: toPressureLadder(ladder.result),
        },
      ];
    });
    const statuses = overviews.map((one) => one.ladder.status);
    return {
      machine,
      asOn: query.asOn ?? new Date().toISOString(),
      basis: query.basis,
      status: ORDER.find((status) => statuses.includes(status)) ?? 'not-applicable',
      powerUnits: await this.powerUnits.listOfMachine(id),
      circuits: overviews,
      components: await this.installed.listOfMachine(id, asOn),
      openIssues: await this.machines.countOpenIssues(id),
      silentSince: await this.machines.silentSince(id),
    };
  }

  async setup(id: string): Promise<MachineSetup> {
    const machine = await this.machines.get(id);
    const asOn = nowOnAnyClock();
    const circuits = await this.circuits.listOfMachine(id);
    const circuitIds = circuits.map((circuit) => circuit.id);
    const fittings = await this.fittings.listOfMachine(id);
    const targets = await this.targets.latest(circuitIds, asOn);
    const setups = await this.setups.latest(circuitIds, asOn);
    const standings = circuitIds.length === 0 ? [] : await this.standings.ofCircuits(circuitIds);
    return {
      machine,
      silentSince: await this.machines.silentSince(id),
      circuits: circuits.map((circuit) => ({
        circuit,
        fixtureName: fittedOn(fittings, circuit.stationId, asOn)?.name ?? null,
        target: targets.find((one) => one.circuitId === circuit.id) ?? null,
        asLeft: setups.find((one) => one.circuitId === circuit.id) ?? null,
        standing: standings.find((one) => one.circuitId === circuit.id) ?? null,
      })),
      components: (await this.installed.listOfMachine(id, asOn)).map(toFitted),
    };
  }
}
