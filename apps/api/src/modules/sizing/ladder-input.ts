import {
  cylinderForce,
  gaugeError,
  type CircuitProofInput,
  type LadderComponent,
  type LadderOperation,
  type PressureLadderInput,
} from '@repo/calc';
import { COMPONENT_FIGURES, type ComponentKind } from '@repo/contracts';
import { figureOf, refOf } from './component-figures.js';
import type { ControlFacts } from './control-facts.repository.js';
import { toControlWiring, toInterlock } from './control-input.js';
import { toMovementInput } from './further-input.js';
import type {
  AsLeftFacts,
  CircuitFacts,
  ComponentFacts,
  FixtureFacts,
  LadderFacts,
  SettingsFacts,
} from './ladder-facts.repository.js';

export type Basis = 'as-left' | 'target';
export interface Dependency {
  entity: string;
  id: string;
}
export interface SettingsInUse {
  basis: Basis | 'none';
  revision: number | null;
  on: Date | null;
}
export interface CircuitLadder {
  facts: CircuitFacts;
  fixture: FixtureFacts | null;
  input: CircuitProofInput;
  settings: SettingsInUse;
  dependencies: Dependency[];
}

type Lines = LadderComponent['lineFunctions'][number];
const ROOM_TEMPERATURE_K = 293.15;
/** Kinds that need a least pressure before they do their work; without the figure nothing can be said. */
const NEEDS_LEAST: ReadonlySet<ComponentKind> = new Set(['sequence-valve', 'work-support']);

const isRated = (kind: ComponentKind): boolean => 'ratedPressure' in COMPONENT_FIGURES[kind];

function areaRatio(boreM: number | null, rodM: number | null): number | null {
  if (boreM === null || rodM === null || rodM <= 0 || rodM >= boreM) return null;
  return cylinderForce({ boreM, rodM, pressurePa: 0, backPressurePa: 0, efficiency: 1 }).areaRatio;
}

function toComponents(components: ComponentFacts[], fixture: FixtureFacts | null): LadderComponent[] {
  const installed = components
    .filter((component) => isRated(component.kind))
    .map((component): LadderComponent => ({
      ref: refOf(component),
      kind: component.kind,
      ratedPressurePa: figureOf(component, 'ratedPressure'),
      deratingRatio: 1,
      lineFunctions: component.lineFunctions as Lines[],
      rodSideAreaRatio: component.lineFunctions.includes('unclamp')
        ? areaRatio(figureOf(component, 'bore'), figureOf(component, 'rod'))
        : null,
    }));
  if (fixture === null) return installed;
  const lines: Lines[] = ['clamp', 'unclamp'];
  return [
    {
      ref: { entity: 'fixture', id: fixture.fixtureId, name: fixture.name },
      kind: 'fixture',
      ratedPressurePa: fixture.ratedPressurePa,
      deratingRatio: 1,
      lineFunctions: lines,
      rodSideAreaRatio: null,
    },
    ...fixture.elements
      .filter((element) => element.kind !== 'locator' && (element.ratedPressurePa !== null || element.boreM !== null))
      .map((element): LadderComponent => ({
        ref: { entity: 'fixture', id: fixture.fixtureId, name: `${fixture.name}: ${element.name}` },
        kind: element.kind === 'clamp' ? 'swing-clamp' : 'work-support',
        ratedPressurePa: element.ratedPressurePa,
        deratingRatio: 1,
        lineFunctions: lines,
        rodSideAreaRatio: element.kind === 'clamp' ? areaRatio(element.boreM, element.rodM) : null,
      })),
    ...installed,
  ];
}

/** The gauge's permissible error at room temperature, EN 837-1 class; null without the gauge's data. */
function gaugeErrorOf(spanPa: number | null, accuracyClass: number | null): number | null {
  if (spanPa === null || accuracyClass === null) return null;
  return gaugeError({ spanPa, accuracyClass, temperatureK: ROOM_TEMPERATURE_K }).errorPa;
}

function chooseSettings(basis: Basis, asLeft: AsLeftFacts | undefined, target: SettingsFacts | undefined) {
  const chosen = basis === 'as-left' ? (asLeft ?? target) : target;
  const used: Basis | 'none' = chosen === undefined ? 'none' : chosen === asLeft ? 'as-left' : 'target';
  return { chosen, used };
}

const unique = (dependencies: Dependency[]): Dependency[] => [
  ...new Map(dependencies.map((one) => [`${one.entity} ${one.id}`, one])).values(),
];

/** Readings of one circuit while another one clamps hold for the setting at which they were taken. */
function toOthers(
  facts: LadderFacts,
  circuit: CircuitFacts,
  asLeft: AsLeftFacts | undefined,
  settingPa: number | null,
) {
  const isAsMeasured = asLeft !== undefined && asLeft.settingPa === settingPa;
  return facts.fed
    .filter((other) => other.powerUnitId === circuit.powerUnitId && other.id !== circuit.id)
    .map((other) => ({
      ref: { entity: 'circuit', id: other.id, name: other.name },
      lowestPressurePa: isAsMeasured ? asLeft.lowestWhileSharedPa : null,
    }));
}

/** Turns the facts of one circuit into the calculation's input. What is not recorded stays null. */
export function toLadderInput(
  facts: LadderFacts,
  control: ControlFacts,
  circuit: CircuitFacts,
  basis: Basis,
): CircuitLadder {
  const components = facts.components.filter(
    (component) => component.circuitId === circuit.id || component.powerUnitId === circuit.powerUnitId,
  );
  const ofKind = (kind: ComponentKind): ComponentFacts | undefined =>
    components.find((component) => component.kind === kind && component.circuitId === circuit.id) ??
    components.find((component) => component.kind === kind);
  const fixture = facts.fixtures.find((one) => one.stationId === circuit.stationId) ?? null;
  const operations = facts.operations.filter((one) => one.fixtureId === fixture?.fixtureId);
  const asLeft = facts.asLeft.find((one) => one.circuitId === circuit.id);
  const target = facts.targets.find((one) => one.circuitId === circuit.id);
  const { chosen, used } = chooseSettings(basis, asLeft, target);
  const pressureSwitch = ofKind('pressure-switch');
  const pump = ofKind('pump');
  const relief = ofKind('relief-valve');
  const gauge = ofKind('gauge');
  const asLeftGaugeError =
    asLeft === undefined || asLeft.gaugeClass === ''
      ? null
      : gaugeErrorOf(asLeft.gaugeSpanPa, Number(asLeft.gaugeClass));
  const ownGaugeError = gaugeErrorOf(figureOf(gauge, 'span'), figureOf(gauge, 'accuracyClass'));
  const decay = asLeft?.decayPa ?? null;
  const decayDuration = asLeft?.decayDurationS ?? null;
  const ladder: PressureLadderInput = {
    operations: operations.map((operation): LadderOperation => ({
      ref: { entity: 'operation', id: operation.id, name: `${operation.number} ${operation.name}` },
      requiredPressurePa: operation.requiredPressurePa,
      requiredBasis: operation.requiredBasis,
      workpieceLimitPa: operation.workpieceLimitPa,
      workpieceNotLimiting: operation.workpieceNotLimiting,
    })),
    leastWorking: [
      ...components
        .filter((one) => NEEDS_LEAST.has(one.kind) || figureOf(one, 'leastWorkingPressure') !== null)
        .map((one) => ({
          ref: refOf(one),
          leastWorkingPressurePa: figureOf(one, 'leastWorkingPressure'),
        })),
      ...(fixture?.elements ?? [])
        .filter((one) => one.kind === 'support' || one.leastWorkingPressurePa !== null)
        .map((one) => ({
          ref: { entity: 'fixture', id: fixture?.fixtureId ?? one.id, name: `${fixture?.name ?? ''}: ${one.name}` },
          leastWorkingPressurePa: one.leastWorkingPressurePa,
        })),
    ],
    setPointPa: chosen?.setPointPa ?? null,
    resetPointPa: chosen?.resetPointPa ?? null,
    switchAccuracyPa: figureOf(pressureSwitch, 'accuracy'),
    settingPa: chosen?.settingPa ?? null,
    settingHalfWidthPa: chosen?.settingTolerancePa ?? null,
    gaugeErrorPa: used === 'as-left' ? asLeftGaugeError : (ownGaugeError ?? asLeftGaugeError),
    hasReducingValve: circuit.hasReducingValve,
    pump: {
      drive: circuit.drive,
      pistonRatio: figureOf(pump, 'pistonRatio'),
      stallEfficiencyRatio: figureOf(pump, 'stallEfficiency'),
      airPressurePa: chosen?.airPressurePa ?? null,
      airPressureLowPa: circuit.plantAirLowPa,
      airPressureHighPa: circuit.plantAirHighPa,
      highestPressurePa: figureOf(pump, 'highestPressure'),
      restartPressurePa: chosen?.pumpRestartPa ?? figureOf(pump, 'restartPressure'),
      restartHalfWidthPa: chosen?.pumpRestartTolerancePa ?? figureOf(pump, 'restartTolerance'),
    },
    relief:
      relief === undefined
        ? null
        : {
            ref: refOf(relief),
            openingPressurePa: figureOf(relief, 'openingPressure'),
            fullFlowPressurePa: figureOf(relief, 'fullFlowPressure'),
          },
    thermal: {
      // Not said is taken as "it can": the figures are then asked for.
      canTrap: circuit.canTrap ?? true,
      temperatureRiseK: circuit.trappedTemperatureRiseK,
      netExpansionPerK: circuit.trappedNetExpansionPerK,
      bulkModulusPa: circuit.trappedBulkModulusPa,
    },
    hold: {
      decayRatePaPerS: decay === null || decayDuration === null ? null : decay / decayDuration,
      reactionTimeS:
        circuit.controlReactionS === null ? null : circuit.controlReactionS + (figureOf(pressureSwitch, 'delay') ?? 0),
    },
    components: toComponents(components, fixture),
    unclampLineCanBlock: circuit.unclampLineCanBlock ?? true,
    marginsAsked: facts.margins,
  };
  const others = toOthers(facts, circuit, asLeft, ladder.settingPa);
  const valve = ofKind('directional-valve');
  const { settingPa, setPointPa } = ladder;
  const use = { settingPa, setPointPa, airPressurePa: ladder.pump.airPressurePa, asLeft };
  const neighbours = facts.fed.filter((other) => other.powerUnitId === circuit.powerUnitId && other.id !== circuit.id);
  const neighbourIds = neighbours.map(({ id }) => id);
  return {
    facts: circuit,
    fixture,
    input: {
      pressureLadder: ladder,
      sharedSupply: { others },
      withoutSupply: {
        isDecoupled: circuit.isDecoupled,
        timeWithoutS: circuit.timeWithoutSupplyS,
        coolingK: circuit.coolingWithoutSupplyK,
        isProvedAgain: circuit.isProvedAgain,
      },
      marginsAsked: {
        'shared-supply': facts.margins['shared-supply'],
        'holds-without-supply': facts.margins['holds-without-supply'],
      },
      further: {
        ...toMovementInput(facts, circuit, use),
        controlWiring: toControlWiring(control, circuit, {
          powerW: figureOf(valve, 'coilPower'),
          ratedVoltageV: figureOf(valve, 'coilVoltage'),
          toleranceRatio: figureOf(valve, 'coilTolerance'),
          dutyRatio: figureOf(valve, 'coilDuty'),
        }),
        interlock: toInterlock(control, circuit.id),
        // Ratings of wires and devices carry their own margins, and a rule holds or not: nothing is asked beyond.
        marginsAsked: { ...facts.margins, 'control-wiring': 0, 'interlock-sound': 0 },
      },
    },
    settings: { basis: used, revision: chosen?.revision ?? null, on: chosen?.at ?? null },
    dependencies: unique([
      { entity: 'circuit', id: circuit.id },
      { entity: 'machine', id: circuit.machineId },
      { entity: 'power-unit', id: circuit.powerUnitId },
      { entity: 'station', id: circuit.stationId },
      ...(fixture === null ? [] : [{ entity: 'fixture', id: fixture.fixtureId }]),
      ...components.map((component) => ({ entity: 'component-type', id: component.componentTypeId })),
      { entity: basis === 'target' ? 'target-settings' : 'setup-records', id: circuit.id },
      // What was read at the machine is used for a target of the same setting, too.
      { entity: 'setup-records', id: circuit.id },
      ...neighbours.flatMap(({ id, stationId }) => [
        { entity: 'circuit', id },
        { entity: 'station', id: stationId },
      ]),
      ...facts.fixtures
        .filter(({ stationId }) => neighbours.some((other) => other.stationId === stationId))
        .map(({ fixtureId }) => ({ entity: 'fixture', id: fixtureId })),
      ...facts.components
        .filter(({ circuitId }) => circuitId !== null && neighbourIds.includes(circuitId))
        .map(({ componentTypeId }) => ({ entity: 'component-type', id: componentTypeId })),
    ]),
  };
}
