import { toViscosityAt } from '../oil/oil-viscosity.js';
import type { ActuationGroup, ActuationInput, LineName } from './actuation.types.js';
import { Figures, isNotNegative, isPositive, toArea, type Piece } from './figures.js';
import { fittingsOf, takeFittings, takeLimit, type Fitting, type Valve } from './line-losses.js';

export type Group = { [K in keyof ActuationGroup]-?: NonNullable<ActuationGroup[K]> };
export type Way = 'clamp' | 'unclamp';
/** A line with what stands in it. */
export interface Line {
  pieces: readonly Piece[];
  fittings: readonly Fitting[];
}
/** A pump and an oil that are known. */
export interface Conditions {
  freeFlowM3PerS: number;
  stallPressurePa: number;
  viscosityM2PerS: number;
  /** what lines and valves lose: at the most that may pass; no more than surely, for the fastest that anything goes; or as records that kept
   *  their inputs took it */
  losses: 'most' | 'least' | 'former';
}

/** A single-acting one that pulls has its spring on the piston side; without its rod the whole bore counts, which is slower. */
function takeRodOfSpring({ pulls, boreM, rodM }: Pick<ActuationGroup, 'pulls' | 'boreM' | 'rodM'>): number {
  return pulls === true && boreM !== null && rodM !== null && rodM >= 0 && rodM < boreM ? rodM : 0;
}

/** Area on which the oil presses that a spring pushes back [m2]; null: its bore is not known. */
export const toSpringArea = (group: Pick<ActuationGroup, 'pulls' | 'boreM' | 'rodM'>): number | null =>
  group.boreM === null ? null : toArea(group.boreM) - toArea(takeRodOfSpring(group));

function takeGroups(figures: Figures, groups: readonly ActuationGroup[]): Group[] {
  if (groups.length === 0) figures.missing.push({ field: 'groups', ref: null });
  return groups.map((group) => {
    const { ref, acting } = group;
    if (acting === null) figures.missing.push({ field: 'acting', ref });
    // Whether it pulls goes by its form: by which side it clamps, it is quick or slow.
    if (group.pulls === null) figures.missing.push({ field: 'form', ref });
    const boreM = figures.take(group.boreM, 'boreM', ref, isPositive);
    const isSpring = acting === 'single';
    const springForceN = isSpring ? figures.take(group.springForceN, 'springForceN', ref, isNotNegative) : 0;
    return {
      ...group,
      pulls: group.pulls ?? false,
      isSequenced: group.isSequenced === true,
      acting: acting ?? 'double',
      boreM,
      rodM: isSpring
        ? takeRodOfSpring(group)
        : figures.take(group.rodM, 'rodM', ref, (rod) => rod >= 0 && !(rod >= boreM)),
      strokeM: figures.take(group.strokeM, 'strokeM', ref, isNotNegative),
      frictionN: figures.take(group.frictionN, 'frictionN', ref, isNotNegative),
      viscousFrictionNsPerM: figures.take(group.viscousFrictionNsPerM, 'viscousFrictionNsPerM', ref, isPositive),
      contactStiffnessNPerM: figures.take(group.contactStiffnessNPerM, 'contactStiffnessNPerM', ref, isPositive),
      springForceN,
      springForceAtContactN: isSpring ? Math.max(springForceN, group.springForceAtContactN ?? 0) : 0,
    };
  });
}

/** Oil at both temperatures; a pair of viscosities that no oil has is as good as none. */
function takeOil(figures: Figures, { oil }: ActuationInput) {
  const at40 = figures.take(oil.viscosityAt40M2PerS, 'viscosityAt40M2PerS', null, isPositive);
  const isOil = (at100: number): boolean => at100 > 0.3e-6 && !(at100 >= at40);
  const at100 = figures.take(oil.viscosityAt100M2PerS, 'viscosityAt100M2PerS', null, isOil);
  const isKelvin = (value: number): boolean => value >= 200 && value <= 450;
  const at = (temperatureK: number | null, field: string): number =>
    toViscosityAt(at40, at100, figures.take(temperatureK, field, null, isKelvin));
  return {
    at40M2PerS: at40,
    warmM2PerS: at(oil.workingTemperatureK, 'workingTemperatureK'),
    coldM2PerS: at(oil.coldTemperatureK, 'coldTemperatureK'),
    densityKgPerM3: figures.take(oil.densityKgPerM3, 'densityKgPerM3', null, isPositive),
    modulusPa: figures.take(oil.bulkModulusPa, 'bulkModulusPa', null, isPositive),
    airFraction: figures.take(oil.airFraction, 'airFraction', null, (share) => share >= 0 && share < 1),
  };
}

function takePump(figures: Figures, { pump }: ActuationInput) {
  const freeFlowM3PerS = figures.take(pump.freeFlowM3PerS, 'freeFlowM3PerS', null, isPositive);
  const stallPressureLowPa = figures.take(pump.stallPressureLowPa, 'stallPressureLowPa', null, isPositive);
  const { settingLowPa } = pump;
  const lowestPa = settingLowPa === undefined ? Infinity : figures.take(settingLowPa, 'settingLowPa', null, isPositive);
  return {
    freeFlowM3PerS,
    // With less air it runs slower. Without the air the stall is not known either, and is asked for.
    freeFlowLowM3PerS: pump.freeFlowLowM3PerS ?? freeFlowM3PerS,
    stallPressurePa: figures.take(pump.stallPressurePa, 'stallPressurePa', null, isPositive),
    stallPressureLowPa: Math.min(stallPressureLowPa, lowestPa),
    // Not known: then the stall is not either, and is asked for.
    steepestPa: pump.steepestPa ?? null,
  };
}

function takeValve(figures: Figures, { valve }: ActuationInput): Valve {
  if (valve === null) {
    figures.missing.push({ field: 'directionalValve', ref: null });
    return { ratedFlowM3PerS: Number.NaN, lossAtRatedFlowPa: Number.NaN };
  }
  return {
    ratedFlowM3PerS: figures.take(valve.ratedFlowM3PerS, 'ratedFlowM3PerS', valve.ref, isPositive),
    lossAtRatedFlowPa: figures.take(valve.lossAtRatedFlowPa, 'lossAtRatedFlowPa', valve.ref, isNotNegative),
  };
}

/** All that is known of how the cylinders are fed, and what is missing. */
function takeFeed(figures: Figures, input: ActuationInput) {
  figures.missing.push(...(input.movingFirst ?? []).flatMap(({ missing }) => missing));
  if (input.isFixtureUnknown === true) figures.missing.push({ field: 'fixture', ref: null });
  for (const ref of input.unplaced ?? []) figures.missing.push({ field: 'lineFunctions', ref });
  for (const ref of input.accumulators ?? []) figures.missing.push({ field: 'timeWithAccumulator', ref });
  const takeLine = (line: LineName): Line => {
    const pieces = figures.takeLine(input.lines[line], `${line}Line`);
    return { pieces, fittings: takeFittings(figures, fittingsOf(input, line), pieces) };
  };
  const isDouble = input.groups.some(({ acting }) => acting !== 'single');
  const valve = takeValve(figures, input);
  const [supply, clamp, tank] = [takeLine('supply'), takeLine('clamp'), takeLine('tank')];
  const unclamp = isDouble ? takeLine('unclamp') : { pieces: [], fittings: [] };
  const to = (line: LineName): number => takeLimit(figures, input, line, 'toCylindersM3PerS');
  const from = (line: LineName): number => takeLimit(figures, input, line, 'fromCylindersM3PerS');
  const [supplyLimit, tankLimit] = [to('supply'), from('tank')];
  const opening = (input.sequenceValves ?? []).map(({ ref, openingPressurePa, lines = ['clamp'] }) => ({
    lines,
    openingPa: figures.take(openingPressurePa, 'openingPressurePa', ref, isPositive),
  }));
  const opensIn = (line: LineName): number | null => {
    const all = opening.filter(({ lines }) => lines.length === 0 || lines.includes(line)).map((one) => one.openingPa);
    // Which of several stands before what nobody has said: the last to open.
    return all.length === 0 ? null : Math.max(...all);
  };
  return {
    valve,
    lines: { supply, clamp, tank, unclamp },
    // Flow towards the cylinders through a line, and back from them through it.
    limits: {
      to: {
        clamp: Math.min(supplyLimit, to('clamp')),
        unclamp: Math.min(supplyLimit, isDouble ? to('unclamp') : Infinity),
      },
      from: {
        clamp: Math.min(tankLimit, from('clamp')),
        unclamp: Math.min(tankLimit, isDouble ? from('unclamp') : Infinity),
      },
    },
    supplyLimitM3PerS: supplyLimit < Infinity ? supplyLimit : null,
    opensAtPa: { supply: opensIn('supply'), clamp: opensIn('clamp'), unclamp: opensIn('unclamp') },
  };
}

/** What is known of a circuit that moves; NaN where it is not, and then among what is missing. */
export interface Known {
  groups: readonly Group[];
  oil: ReturnType<typeof takeOil>;
  pump: ReturnType<typeof takePump>;
  feed: ReturnType<typeof takeFeed>;
  returnPressurePa: number;
  /** by what shut-in oil may have warmed up in each line when it is let out [Pa] */
  warmedPa: Readonly<Record<Way, number>>;
  switchRisingPa: number;
  /** by how much it may make later; where nobody knows, its check asks for it */
  switchAccuracyPa: number;
  switchAt: NonNullable<ActuationInput['switchAt']>;
  /** made from a circuit's facts, not from a record that kept its inputs */
  isFromFacts: boolean;
}

/** The figures of a circuit, with what is missing for any movement, and for clamping beside. */
export function takeKnown(input: ActuationInput): {
  known: Known;
  missing: Figures['missing'];
  toClamp: Figures['missing'];
} {
  const common = new Figures();
  const known = {
    groups: takeGroups(common, input.groups),
    oil: takeOil(common, input),
    pump: takePump(common, input),
    feed: takeFeed(common, input),
    returnPressurePa: common.take(input.returnPressurePa, 'returnPressurePa', null, isNotNegative),
    // What it would be beyond what is known is asked for by the checks that it bears on.
    warmedPa: input.warmedPa ?? { clamp: 0, unclamp: 0 },
  };
  const clamping = new Figures();
  const switchRisingPa = clamping.take(input.switchRisingPa, 'setPointPa', null, isPositive);
  if (input.switchAt === null) clamping.missing.push({ field: 'switchAt', ref: null });
  const isFromFacts = input.isFromFacts === true;
  // A clamp is held back hardest where it meets the workpiece: of a spring that is known over its stroke alone, no time is told.
  for (const { ref, role, acting, springForceAtContactN = null } of isFromFacts ? input.groups : []) {
    if (role === 'clamp' && acting === 'single') {
      clamping.take(springForceAtContactN, 'springForceAtContactN', ref, isNotNegative);
    }
  }
  return {
    known: {
      ...known,
      switchRisingPa,
      switchAccuracyPa: input.switchAccuracyPa ?? 0,
      switchAt: input.switchAt ?? 'manifold',
      isFromFacts,
    },
    missing: common.missing,
    toClamp: clamping.missing,
  };
}
