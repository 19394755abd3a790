import {
  toCylinderPressure,
  toManifoldPressure,
  toPressureAt,
  type ClampCircuit,
  type Place,
} from '../filling/clamp-circuit.js';
import { runCircuit, type CircuitRun, type PressureMark } from '../filling/run-circuit.js';
import { toViscosityAt } from '../oil/oil-viscosity.js';
import type {
  ActuationGroup,
  ActuationInput,
  ActuationResult,
  ClampMovement,
  LineName,
  PressuresOnTheWay,
} from './actuation.types.js';
import { Figures, isNotNegative, isPositive, sumOf, toArea, toVolume, type Piece } from './figures.js';
import { followSprings, toFormerSpringReturn } from './spring-return.js';
import { fittingsOf, takeFittings, takeLimit, toFittingResistance, toResistance, type Fitting } from './line-losses.js';

/** What is not there within ten minutes is taken as never. */
const LONGEST_S = 600;
/** A circuit takes a few hundred; one with figures that no circuit has is given up early. */
const MOST_STEPS = 20_000;
const OPTIONS = { mostSteps: MOST_STEPS, isTracked: false };
/** Air that is pressed together within seconds: adiabatic. */
const POLYTROPIC = 1.4;

type Group = { [K in keyof ActuationGroup]-?: NonNullable<ActuationGroup[K]> };
type Way = 'clamp' | 'unclamp';
/** A line with what stands in it. */
interface Line {
  pieces: readonly Piece[];
  fittings: readonly Fitting[];
}
/** A pump, an oil and a return pressure that are known. */
interface Conditions {
  freeFlowM3PerS: number;
  stallPressurePa: number;
  viscosityM2PerS: number;
}

/** A single-acting one that pulls has its spring on the piston side; without its rod the whole bore counts, which is slower. */
function takeRodOfSpring({ pulls, boreM, rodM }: Pick<ActuationGroup, 'pulls' | 'boreM' | 'rodM'>): number {
  return pulls === true && boreM !== null && rodM !== null && rodM >= 0 && rodM < boreM ? rodM : 0;
}

/** Area on which the oil presses that a spring pushes back [m2]; null: its bore is not known. */
export const toSpringArea = (group: Pick<ActuationGroup, 'pulls' | 'boreM' | 'rodM'>): number | null =>
  group.boreM === null ? null : toArea(group.boreM) - toArea(takeRodOfSpring(group));

/** Areas that drive a cylinder and that push oil back. */
function toSides({ boreM, rodM, pulls }: Group, way: Way): [drive: number, back: number] {
  const [piston, annulus] = [toArea(boreM), toArea(boreM) - toArea(rodM)];
  return (way === 'clamp') === pulls ? [annulus, piston] : [piston, annulus];
}

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
    warmM2PerS: at(oil.workingTemperatureK, 'workingTemperatureK'),
    coldM2PerS: at(oil.coldTemperatureK, 'coldTemperatureK'),
    densityKgPerM3: figures.take(oil.densityKgPerM3, 'densityKgPerM3', null, isPositive),
    modulusPa: figures.take(oil.bulkModulusPa, 'bulkModulusPa', null, isPositive),
    airFraction: figures.take(oil.airFraction, 'airFraction', null, (share) => share >= 0 && share < 1),
  };
}

function takePump(figures: Figures, { pump }: ActuationInput) {
  return {
    freeFlowM3PerS: figures.take(pump.freeFlowM3PerS, 'freeFlowM3PerS', null, isPositive),
    stallPressurePa: figures.take(pump.stallPressurePa, 'stallPressurePa', null, isPositive),
    stallPressureLowPa: figures.take(pump.stallPressureLowPa, 'stallPressureLowPa', null, isPositive),
  };
}

/** Loss for each flow through the valve, by its point at rated flow: above what it loses at less [Pa.s/m3]. */
function takeValve(figures: Figures, { valve }: ActuationInput): number {
  if (valve === null) {
    figures.missing.push({ field: 'directionalValve', ref: null });
    return Number.NaN;
  }
  const flow = figures.take(valve.ratedFlowM3PerS, 'ratedFlowM3PerS', valve.ref, isPositive);
  return figures.take(valve.lossAtRatedFlowPa, 'lossAtRatedFlowPa', valve.ref, isNotNegative) / flow;
}

function toLast(times: readonly (number | null)[]): number | 'never' {
  return times.reduce<number | 'never'>(
    (last, time) => (last === 'never' || time === null ? 'never' : Math.max(last, time)),
    0,
  );
}

function toPeakFlows(run: CircuitRun, areasM2: readonly number[]): number[] {
  return run.positions.map((track, group) => {
    let peak = 0;
    for (let at = 1; at < track.length; at += 1) {
      // A step may be shorter than the clock's last digit; nothing has moved in it.
      const time = Number(run.times[at]) - Number(run.times[at - 1]) + Number.MIN_VALUE;
      peak = Math.max(peak, (Number(track[at]) - Number(track[at - 1])) / time);
    }
    return peak * Number(areasM2[group]);
  });
}

/** All that is known of how the cylinders are fed, and what is missing. */
function takeFeed(figures: Figures, input: ActuationInput) {
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
  const opening = (input.sequenceValves ?? []).map(({ ref, openingPressurePa }) =>
    figures.take(openingPressurePa, 'openingPressurePa', ref, isPositive),
  );
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
    // Which of several stands before what nobody has said: the last to open.
    opensAtPa: opening.length === 0 ? null : Math.max(...opening),
  };
}

/**
 * How a circuit's cylinders move: clamping with warm and with the coldest oil, unclamping with the coldest.
 * Clamping is the transient of `clamp-sequence`; unclamping is the same with the sides changed, and springs push their
 * cylinders back against the loss of the return line. What is missing is listed; nothing is put in its place.
 * Pump, manifold, clamp line and cylinders have pressures of their own: between them lie the losses of supply line, valve, clamp line and
 * what stands in them. A cylinder that pulls clamps by its annulus and unclamps by its piston. What lies behind a sequence valve stands
 * still until it opens, and then takes what keeps the pressure before it there; a flow control lets no more through than its flow.
 * Assumed: as `clamp-sequence`; laminar lines; density at 15 °C at any temperature; a valve loses less than its rated loss in proportion to
 * flow; a spring gives its least force over the whole way back, and what it has at contact over the whole stroke; the oil that gives way lies at the cylinders.
 * Sources: Hagen–Poiseuille; ASTM D341 for viscosity over temperature; fittings by equivalent length (Crane TP-410, from memory).
 */
export function actuate(input: ActuationInput): ActuationResult {
  const common = new Figures();
  const groups = takeGroups(common, input.groups);
  const oil = takeOil(common, input);
  const pump = takePump(common, input);
  const feed = takeFeed(common, input);
  const { valve, lines } = feed;
  const returnPressurePa = common.take(input.returnPressurePa, 'returnPressurePa', null, isNotNegative);

  const readInput = new Figures();
  const switchRisingPa = readInput.take(input.switchRisingPa, 'setPointPa', null, isPositive);
  if (input.switchAt === null) readInput.missing.push({ field: 'switchAt', ref: null });
  const switchAt = input.switchAt ?? 'manifold';
  // A clamp is held back hardest where it meets the workpiece: of a spring that is known over its stroke alone, no time is told.
  for (const { ref, role, acting, springForceAtContactN = null } of input.isFromFacts === true ? input.groups : []) {
    if (role === 'clamp' && acting === 'single') {
      readInput.take(springForceAtContactN, 'springForceAtContactN', ref, isNotNegative);
    }
  }

  const lossOf = ({ pieces, fittings }: Line, at: Conditions): number =>
    toResistance(pieces, at.viscosityM2PerS, oil.densityKgPerM3) +
    toFittingResistance(fittings, at, oil.densityKgPerM3);

  const toCircuit = (way: Way, which: readonly Group[], at: Conditions): ClampCircuit => {
    const other = way === 'clamp' ? 'unclamp' : 'clamp';
    const { pieces } = lines[way];
    const lineVolumeM3 = sumOf(pieces, toVolume);
    const { opensAtPa } = feed;
    return {
      freeFlowM3PerS: at.freeFlowM3PerS,
      stallPressurePa: at.stallPressurePa,
      supplyResistance: lossOf(lines.supply, at) + valve + lossOf(lines[way], at),
      returnResistance: lossOf(lines[other], at) + valve + lossOf(lines.tank, at),
      supplyLimitM3PerS: feed.limits.to[way],
      returnLimitM3PerS: feed.limits.from[other],
      lineVolumeM3,
      oilModulusPa: oil.modulusPa,
      airFraction: oil.airFraction,
      polytropic: POLYTROPIC,
      hoseCompliance: sumOf(pieces, (piece) => toVolume(piece) * piece.compliance) / lineVolumeM3,
      groups: which.map((group) => {
        const isSpring = group.acting === 'single';
        const [drive, back] = toSides(group, way);
        // A spring pushes back what oil moved, into the return; no oil drives it there.
        const sides = !isSpring ? [drive, back] : way === 'clamp' ? [drive, 0] : [0, back];
        const [pistonM2 = 0, annulusM2 = 0] = sides;
        const springN = !isSpring ? 0 : way === 'clamp' ? group.springForceAtContactN : -group.springForceN;
        return {
          count: group.count,
          pistonM2,
          annulusM2,
          strokeM: group.strokeM,
          frictionN: group.frictionN + springN + returnPressurePa * annulusM2,
          viscousNsPerM: group.viscousFrictionNsPerM,
          stiffnessNPerM: group.contactStiffnessNPerM,
          ...(way === 'clamp' && group.isSequenced && opensAtPa !== null ? { opensAtPa } : {}),
        };
      }),
    };
  };

  const toPlaces = (at: Conditions) => {
    const manifold = lossOf(lines.supply, at);
    const heldToM3PerS = feed.supplyLimitM3PerS;
    return {
      pump: { resistanceBefore: 0, heldToM3PerS: null },
      manifold: { resistanceBefore: manifold, heldToM3PerS },
      'clamp-line': { resistanceBefore: manifold + valve, heldToM3PerS },
    } satisfies Record<NonNullable<ActuationInput['switchAt']>, Place>;
  };

  /** Pressures at the cylinders as the switch makes: where it senses latest, and where it senses soonest. */
  const toSwitching = (circuit: ClampCircuit, at: Conditions): { latestPa: number; soonestPa: number } => {
    if (input.isFromFacts !== true) {
      const only = toManifoldPressure(circuit, switchRisingPa, switchAt === 'pump' ? 'pump' : 'manifold');
      return { latestPa: only, soonestPa: only };
    }
    const soonestPa = toCylinderPressure(circuit, switchRisingPa, toPlaces(at)[switchAt]);
    return { latestPa: switchAt === 'clamp-line' ? switchRisingPa : soonestPa, soonestPa };
  };

  const toPressures = (circuit: ClampCircuit, at: Conditions, cylinderPa: number): PressuresOnTheWay => {
    const places = toPlaces(at);
    return {
      pumpPa: toPressureAt(circuit, cylinderPa, places.pump),
      manifoldPa: toPressureAt(circuit, cylinderPa, places.manifold),
      linePa: toPressureAt(circuit, cylinderPa, places['clamp-line']),
      cylinderPa,
    };
  };

  const toClamping = (at: Conditions): ClampMovement | null => {
    const circuit = toCircuit('clamp', groups, at);
    const { latestPa, soonestPa } = toSwitching(circuit, at);
    const toMark = (pressurePa: number): PressureMark => ({ pressurePa, timeS: pressurePa <= 0 ? 0 : null });
    const latest = toMark(latestPa);
    const soonest = soonestPa === latestPa ? latest : toMark(soonestPa);
    const marks = [...new Set([latest, soonest])].filter(({ pressurePa }) => pressurePa < at.stallPressurePa);
    const run = runCircuit(circuit, 0, LONGEST_S, marks, OPTIONS);
    if (run === null) return null;
    const first = groups.reduce<number | null>((earliest, { role }, index) => {
      const time = run.contactsS[index] ?? null;
      return role !== 'clamp' || time === null || (earliest !== null && earliest <= time) ? earliest : time;
    }, null);
    const areas = groups.map((group) => toSides(group, 'clamp')[0]);
    return {
      timeToSwitchS: latest.timeS ?? 'never',
      soonestSwitchS: soonest.timeS ?? 'never',
      atSwitch: latest.timeS === null ? null : toPressures(circuit, at, Math.max(0, latestPa)),
      timeToContactS: toLast(run.contactsS),
      pressureAtFirstContactPa: first === null ? null : Number(run.pressures[run.times.indexOf(first)]),
      peakFlowsM3PerS: toPeakFlows(run, areas),
    };
  };

  const toUnclamping = (at: Conditions): number | 'never' | null => {
    const driven = groups.filter(({ acting }) => acting === 'double');
    const all = toCircuit('unclamp', groups, at);
    // What its spring cannot push, or oil cannot, moves at no time.
    if (all.groups.some(({ pistonM2, frictionN, strokeM }) => pistonM2 === 0 && frictionN >= 0 && strokeM > 0)) {
      return 'never';
    }
    if (driven.length === 0) return followSprings(all);
    const run = runCircuit(all, 0, LONGEST_S, [], OPTIONS);
    return run === null ? null : toLast(run.contactsS);
  };

  /** As records took it that kept their inputs: what oil drives, and what springs push, each with the lines for itself. */
  const toFormerUnclamping = (at: Conditions): number | 'never' | null => {
    const driven = groups.filter(({ acting }) => acting === 'double');
    const sprung = groups.filter(({ acting }) => acting === 'single');
    const run = driven.length === 0 ? null : runCircuit(toCircuit('unclamp', driven, at), 0, LONGEST_S, [], OPTIONS);
    if (driven.length > 0 && run === null) return null;
    const both = {
      pieces: [...lines.clamp.pieces, ...lines.tank.pieces],
      fittings: [...lines.clamp.fittings, ...lines.tank.fittings],
    };
    const limitM3PerS = feed.limits.from.clamp;
    const back = { resistance: lossOf(both, at) + valve, returnPressurePa, limitM3PerS };
    const returned = sprung.map((group) => ({ ...group, areaM2: toSides(group, 'clamp')[0] }));
    const times = [run === null ? 0 : toLast(run.contactsS), toFormerSpringReturn(returned, back)];
    return times.includes('never') ? 'never' : Math.max(...times.map(Number));
  };

  const clampMissing = [...common.missing, ...readInput.missing];
  const { freeFlowM3PerS, stallPressurePa, stallPressureLowPa } = pump;
  const warm = { freeFlowM3PerS, stallPressurePa, viscosityM2PerS: oil.warmM2PerS };
  const cold = { freeFlowM3PerS, stallPressurePa: stallPressureLowPa, viscosityM2PerS: oil.coldM2PerS };
  const canClamp = clampMissing.length === 0;
  return {
    warm: canClamp ? toClamping(warm) : null,
    cold: canClamp ? toClamping(cold) : null,
    unclampColdS:
      common.missing.length > 0 ? null : input.isFromFacts === true ? toUnclamping(cold) : toFormerUnclamping(cold),
    clampMissing,
    unclampMissing: common.missing,
    usualFittings: sumOf(Object.values(lines), ({ fittings }) => fittings.filter(({ isUsual }) => isUsual).length),
  };
}
