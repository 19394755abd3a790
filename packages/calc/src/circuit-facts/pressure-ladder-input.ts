import type {
  RatedComponent,
  LeastWorkingPressure,
  ProvedOperation,
  PressureLadderInput,
} from '../pressure-ladder/pressure-ladder.types.js';
import { ATMOSPHERE_PA } from '../constants.js';
import type { CircuitFacts, ComponentFacts, ComponentKind, FixtureFacts } from './circuit-facts.types.js';
import { areaRatio, listBlockedSides, listOpposedSides } from './blocked-sides.js';
import { findBurst } from './burst-hose.js';
import { toOil } from './oil-input.js';
import { toPads } from './pad-limits.js';
import {
  figureOf,
  findOfKind,
  listOfKind,
  listSettingGauges,
  mayBeIn,
  refOf,
  seesPressure,
} from './component-figures.js';
import {
  asItStands,
  errorOfReadings,
  findDecayRate,
  findWarmThinning,
  gaugeErrorOf,
  isSetByGaugeOfReadings,
  offReferenceOf,
} from './reading-conditions.js';
import { toReliefs } from './reliefs.js';
import {
  clampLineCanBlock,
  isShutOff,
  isClampLineParted,
  isReduced,
  isUnclampLineBlocked,
  toTrapping,
  unclampLineCanBlock,
  unclampLineCanTrap,
  unsaidOfUnclampLine,
} from './shut-off.js';

/** Kinds that need a least pressure before they do their work; without the figure nothing can be said. */
const NEEDS_LEAST: ReadonlySet<ComponentKind> = new Set(['sequence-valve', 'work-support', 'accumulator']);

function toFixtureParts(fixture: FixtureFacts): RatedComponent[] {
  const lineFunctions = ['clamp', 'unclamp'] as const;
  const whole: RatedComponent = {
    ref: { entity: 'fixture', id: fixture.id, name: fixture.name },
    kind: 'fixture',
    ratedPressurePa: fixture.ratedPressurePa,
    deratingRatio: 1,
    lineFunctions,
    rodSideAreaRatio: null,
  };
  const elements = fixture.elements
    .filter(({ kind }) => kind !== 'locator')
    .map((element): RatedComponent => ({
      ref: { entity: 'fixture', id: fixture.id, name: `${fixture.name}: ${element.name}` },
      kind: element.kind === 'clamp' ? 'swing-clamp' : 'work-support',
      ratedPressurePa: element.ratedPressurePa,
      deratingRatio: 1,
      lineFunctions: element.acting === 'single' ? (['clamp'] as const) : lineFunctions,
      rodSideAreaRatio:
        element.kind === 'clamp' && element.acting !== 'single' ? areaRatio(element.boreM, element.rodM) : null,
    }));
  return [whole, ...elements];
}

const DERATINGS = ['temperatureDerating', 'bendDerating', 'ageDerating'] as const;

/** What temperature, bend and age leave of a hose's rating: each as typed, 1 where nobody has said; none leaves more than the whole. */
const toDerating = (component: ComponentFacts): number =>
  DERATINGS.reduce((share, name) => share * Math.min(1, Math.max(0, figureOf(component, name) ?? 1)), 1);

/** Of one component it is always the same; a way out proves a circuit thousands of times, and changes few of its components. */
const ratedParts = new WeakMap<ComponentFacts, RatedComponent>();

function toRated(component: ComponentFacts): RatedComponent {
  const rated = ratedParts.get(component) ?? makeRated(component);
  ratedParts.set(component, rated);
  return rated;
}

/** A hose is used up to a quarter of the pressure at which it bursts (SAE J517, ISO 17165-1: a design factor of 4; from memory). */
const HOSE_DESIGN_FACTOR = 4;

/** What is written on it, and no more than a hose's burst pressure leaves or a gauge can show. */
function ratingOf(component: ComponentFacts): number | null {
  const rated = figureOf(component, 'ratedPressure');
  const burst = figureOf(component, 'burstPressure');
  const span = component.kind === 'gauge' ? figureOf(component, 'span') : null;
  if (rated === null) return null;
  return Math.min(rated, burst === null ? Infinity : burst / HOSE_DESIGN_FACTOR, span ?? Infinity);
}

const makeRated = (component: ComponentFacts): RatedComponent => ({
  ref: refOf(component),
  kind: component.kind,
  ratedPressurePa: ratingOf(component),
  deratingRatio: toDerating(component),
  // In which line nobody has said: it sees the most of any.
  lineFunctions: component.lineFunctions.length > 0 ? component.lineFunctions : ['supply', 'clamp', 'unclamp'],
  rodSideAreaRatio: mayBeIn(component, 'unclamp')
    ? areaRatio(figureOf(component, 'bore'), figureOf(component, 'rod'))
    : null,
});

/** The gas of an accumulator is filled at 20 °C (common practice, ISO 4413 has it marked there; from memory), and presses harder as it is warmer. */
const FILLED_AT_K = 293.15;

/** Below the pressure of its gas, warm as the oil at work, an accumulator gives no oil: what was read with it holds no further. */
export function leastWorkingOf(component: ComponentFacts, { powerUnit }: CircuitFacts): number | null {
  if (component.kind !== 'accumulator') return figureOf(component, 'leastWorkingPressure');
  const [filledPa, warmK] = [figureOf(component, 'prechargePressure'), toOil(powerUnit).workingTemperatureK];
  if (filledPa === null || warmK === null) return null;
  return (filledPa + ATMOSPHERE_PA) * Math.max(1, warmK / FILLED_AT_K) - ATMOSPHERE_PA;
}

function toLeastWorking(facts: CircuitFacts): LeastWorkingPressure[] {
  const { components, fixture } = facts;
  const ofComponents = components
    .map((component) => ({ component, leastWorkingPressurePa: leastWorkingOf(component, facts) }))
    .filter(
      ({ component, leastWorkingPressurePa }) => NEEDS_LEAST.has(component.kind) || leastWorkingPressurePa !== null,
    )
    .map(({ component, leastWorkingPressurePa }) => ({ ref: refOf(component), leastWorkingPressurePa }));
  if (fixture === null) return ofComponents;
  const ofElements = fixture.elements
    .filter(({ kind, leastWorkingPressurePa }) => kind === 'support' || leastWorkingPressurePa !== null)
    .map(({ name, leastWorkingPressurePa }) => ({
      ref: { entity: 'fixture', id: fixture.id, name: `${fixture.name}: ${name}` },
      leastWorkingPressurePa,
    }));
  return [...ofComponents, ...ofElements];
}

const addUp = (a: number | null, b: number | null): number | null => (a === null || b === null ? null : a + b);

/**
 * Whether one switch senses the clamps' own pressure. At the pump it is made whichever way the valve stands, and so it is in any line but
 * the clamps'; at the manifold it does in the clamp line alone, as long as nothing shuts the clamps off beyond it.
 */
function doesSense(pressureSwitch: ComponentFacts, facts: CircuitFacts): boolean | null {
  const { sensing, lineFunctions, isBeyondShutOff = null } = pressureSwitch;
  const shutOff = isShutOff(facts);
  const isElsewhere = lineFunctions.length > 0 && !lineFunctions.includes('clamp');
  if (sensing === 'pump' || isElsewhere) return false;
  // It may be at the pump, in whatever line its own is drawn.
  if (sensing === null) return null;
  // In the line itself it may stand before what parts that, or beyond it.
  const isParted = isClampLineParted(facts);
  if (sensing === 'clamp-line') return isParted ? isBeyondShutOff : true;
  if (shutOff === true) return false;
  // Said to be in other lines as well, it may sit in one of those.
  const isInClampLine = lineFunctions.length > 0 && lineFunctions.every((line) => line === 'clamp');
  return shutOff === false && isInClampLine ? (isParted ? isBeyondShutOff : true) : null;
}

/** Whether what the control hears is of the clamps: of several switches nobody says which one it is, and the worst counts. */
function sensesClamps(facts: CircuitFacts, switches: readonly ComponentFacts[]): boolean | null {
  if (switches.length === 0) return null;
  const each = switches.map((pressureSwitch) => doesSense(pressureSwitch, facts));
  if (each.includes(false)) return false;
  return each.includes(null) ? null : true;
}

/** The circuit's own switches, else those of its power unit: of several nobody says which one the control hears, and the worst counts. */
export const findSwitches = (components: readonly ComponentFacts[]): readonly ComponentFacts[] =>
  listOfKind(components, 'pressure-switch');

/** The largest that is known: of a switch of which it is not, the points are as they were read. */
const deadbandOf = (switches: readonly ComponentFacts[]): number =>
  Math.max(0, ...switches.map((component) => figureOf(component, 'deadband') ?? 0));

/**
 * The tolerance of the setting, never less than what makes it drifts by: a reducing valve of the circuit itself, and the regulator of an air-driven
 * pump, whose air is multiplied by the pump's ratio.
 */
export function findSettingHalfWidth({ components, powerUnit, settings: { inUse } }: CircuitFacts): number | null {
  const typedPa = inUse?.settingTolerancePa ?? null;
  if (typedPa === null) return null;
  const driftOf = (kind: ComponentKind): number =>
    Math.max(0, ...components.filter((one) => one.kind === kind).map((one) => figureOf(one, 'drift') ?? 0));
  const airDriftPa = powerUnit.drive === 'air' ? driftOf('pressure-regulator') : 0;
  const ratio = figureOf(findOfKind(components, 'pump'), 'pistonRatio');
  // What a drift of the air comes to is not known without the ratio.
  if (airDriftPa > 0 && ratio === null) return null;
  return Math.max(typedPa, driftOf('reducing-valve'), airDriftPa * (ratio ?? 0));
}

export function largestOf(switches: readonly ComponentFacts[], name: 'accuracy' | 'delay'): number | null {
  const figures = switches.map((component) => figureOf(component, name));
  return figures.length === 0 || figures.includes(null) ? null : Math.max(...figures.map(Number));
}

/** Those of some members that are there at all. */
function onlySaid<T, K extends keyof T>(from: T, names: readonly K[]): Partial<Pick<T, K>> {
  const namedFigures = names.filter((name) => from[name] !== undefined).map((name) => [name, from[name]] as const);
  return Object.fromEntries(namedFigures) as Partial<Pick<T, K>>;
}

/** The facts of one circuit as its pressure ladder takes them. What is not recorded stays null. */
export function toPressureLadderInput(recorded: CircuitFacts): PressureLadderInput {
  const facts = asItStands(recorded);
  const { circuit, powerUnit, components, fixture, operations, control } = facts;
  const { inUse } = facts.settings;
  const switches = findSwitches(components);
  const pump = findOfKind(components, 'pump');
  const reliefs = toReliefs(facts);
  const gauges = listSettingGauges(components);
  const offReferenceK = offReferenceOf(powerUnit);
  // Of several nobody says by which one settings are made: the worst counts.
  const errorsOfFitted = gauges.map((gauge) => gaugeErrorOf(figureOf(gauge, 'span'), figureOf(gauge, 'accuracyClass'), offReferenceK)); // prettier-ignore
  const errorOfFitted = errorsOfFitted.includes(null) ? null : Math.max(...errorsOfFitted.map(Number));
  const opposedSides = listOpposedSides(facts);
  return {
    operations: operations.map((operation): ProvedOperation => ({
      ref: { entity: 'operation', id: operation.id, name: `${operation.number} ${operation.name}` },
      requiredPressurePa: operation.requiredPressurePa,
      requiredBasis: operation.requiredBasis,
      workpieceLimitPa: operation.workpieceLimitPa,
      workpieceNotLimiting: operation.workpieceNotLimiting,
      ...onlySaid(operation, [
        'specificForceSpreadPa',
        'frictionSpreadPa',
        'unheldCase',
        'locatorLimitPa',
        'limitingLocator',
      ]),
    })),
    leastWorking: toLeastWorking(facts),
    pads: toPads(facts.fixture),
    setPointPa: inUse?.setPointPa ?? null,
    resetPointPa: inUse?.resetPointPa ?? null,
    switchDeadbandPa: deadbandOf(switches),
    switchAccuracyPa: largestOf(switches, 'accuracy'),
    settingPa: inUse?.settingPa ?? null,
    settingHalfWidthPa: findSettingHalfWidth(facts),
    // Of a gauge that is fitted and not described nothing is known; without one, settings are made by that of the last readings.
    gaugeErrorPa: isSetByGaugeOfReadings(facts) ? errorOfReadings(facts) : errorOfFitted,
    gaugeOffReferenceK: offReferenceK,
    sensesClamps: sensesClamps(facts, switches),
    hasReducingValve: isReduced(facts),
    isFromFacts: true,
    leastProbability: facts.leastProbability,
    pump: {
      drive: powerUnit.drive,
      pistonRatio: figureOf(pump, 'pistonRatio'),
      stallEfficiencyRatio: figureOf(pump, 'stallEfficiency'),
      airPressurePa: inUse?.airPressurePa ?? null,
      airPressureLowPa: powerUnit.plantAirLowPa,
      // A regulator that is set higher than that has been given more at least once.
      airPressureHighPa: powerUnit.plantAirHighPa && Math.max(powerUnit.plantAirHighPa, inUse?.airPressurePa ?? 0),
      highestPressurePa: figureOf(pump, 'highestPressure'),
      // As set and read: a data sheet's is no reading.
      restartPressurePa: inUse?.pumpRestartPa ?? null,
      restartHalfWidthPa: inUse?.pumpRestartTolerancePa ?? null,
    },
    relief: reliefs[0] ?? null,
    reliefs,
    thermal: {
      ...toTrapping(facts),
      temperatureRiseK: circuit.trappedTemperatureRiseK,
      netExpansionPerK: circuit.trappedNetExpansionPerK,
      bulkModulusPa: circuit.trappedBulkModulusPa,
      unclampBulkModulusPa: circuit.unclampBulkModulusPa,
      // What oil moves one way alone has nothing in an unclamp line.
      canTrapOpen: opposedSides.length > 0 && unclampLineCanTrap(facts),
      unsaidOpen: opposedSides.length > 0 ? unsaidOfUnclampLine(facts) : [],
      thinning: findWarmThinning(powerUnit, circuit.trappedTemperatureRiseK),
    },
    hold: {
      decayRatePaPerS: findDecayRate(facts),
      reactionTimeS: addUp(control.machine.controlReactionS, largestOf(switches, 'delay')),
      burst: findBurst(facts, true),
      burstIfBeyond: findBurst(facts, false),
    },
    components: [...(fixture === null ? [] : toFixtureParts(fixture)), ...components.filter(seesPressure).map(toRated)],
    isFixtureFitted: fixture !== null,
    unclampLineCanBlock: unclampLineCanBlock(facts),
    clampLineCanBlock: clampLineCanBlock(facts),
    blockedSides: listBlockedSides(facts),
    opposedSides,
    ...(opposedSides.length > 0 ? { unclampLineBlocked: isUnclampLineBlocked(facts) } : {}),
    returnPressurePa: circuit.returnPressurePa,
    marginsAsked: facts.marginsAsked,
  };
}
