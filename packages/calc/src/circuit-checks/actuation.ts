import { toManifoldPressure, type ClampCircuit } from '../filling/clamp-circuit.js';
import { runCircuit, type CircuitRun, type PressureMark } from '../filling/run-circuit.js';
import { toViscosityAt } from '../oil/oil-viscosity.js';
import type { ActuationGroup, ActuationInput, ActuationResult, ClampMovement } from './actuation.types.js';
import { Figures, isNotNegative, isPositive, sumOf, toArea, toVolume, type Piece } from './figures.js';

/** What is not there within ten minutes is taken as never. */
const LONGEST_S = 600;
/** A circuit takes a few hundred; one with figures that no circuit has is given up early. */
const MOST_STEPS = 20_000;
/** Air that is pressed together within seconds: adiabatic. */
const POLYTROPIC = 1.4;

type Group = { [K in keyof ActuationGroup]: NonNullable<ActuationGroup[K]> };
/** A pump, an oil and a return pressure that are known. */
interface Conditions {
  freeFlowM3PerS: number;
  stallPressurePa: number;
  viscosityM2PerS: number;
}

function takeGroups(figures: Figures, groups: readonly ActuationGroup[]): Group[] {
  if (groups.length === 0) figures.missing.push({ field: 'groups', ref: null });
  return groups.map((group) => {
    const { ref, acting } = group;
    if (acting === null) figures.missing.push({ field: 'acting', ref });
    const boreM = figures.take(group.boreM, 'boreM', ref, isPositive);
    const isSpring = acting === 'single';
    return {
      ...group,
      acting: acting ?? 'double',
      boreM,
      rodM: isSpring ? 0 : figures.take(group.rodM, 'rodM', ref, (rod) => rod >= 0 && !(rod >= boreM)),
      strokeM: figures.take(group.strokeM, 'strokeM', ref, isNotNegative),
      frictionN: figures.take(group.frictionN, 'frictionN', ref, isNotNegative),
      viscousFrictionNsPerM: figures.take(group.viscousFrictionNsPerM, 'viscousFrictionNsPerM', ref, isPositive),
      contactStiffnessNPerM: figures.take(group.contactStiffnessNPerM, 'contactStiffnessNPerM', ref, isPositive),
      springForceN: isSpring ? figures.take(group.springForceN, 'springForceN', ref, isNotNegative) : 0,
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

/** Laminar loss for each flow of a line [Pa.s/m3]. */
function toResistance(pieces: readonly Piece[], viscosityM2PerS: number, densityKgPerM3: number): number {
  const perLength = (128 * viscosityM2PerS * densityKgPerM3) / Math.PI;
  return perLength * sumOf(pieces, ({ lengthM, innerDiameterM }) => lengthM / innerDiameterM ** 4);
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

/** Time until springs have pushed everything back: constant spring force against the return line's loss. */
function toSpringReturn(groups: readonly Group[], resistance: number, returnPressurePa: number): number | 'never' {
  const push = sumOf(groups, (group) => {
    const area = toArea(group.boreM);
    return (group.count * area * (group.springForceN - returnPressurePa * area)) / group.viscousFrictionNsPerM;
  });
  const hold = sumOf(groups, (group) => (group.count * toArea(group.boreM) ** 2) / group.viscousFrictionNsPerM);
  // All move together: the return is loaded most, and nobody is faster than that.
  const loss = Math.max(0, (resistance * push) / (1 + resistance * hold));
  return groups.reduce<number | 'never'>((last, group) => {
    const force = group.springForceN - (returnPressurePa + loss) * toArea(group.boreM);
    if (last === 'never' || (force <= 0 && group.strokeM > 0)) return 'never';
    return group.strokeM === 0 ? last : Math.max(last, (group.strokeM * group.viscousFrictionNsPerM) / force);
  }, 0);
}

/**
 * How a circuit's cylinders move: clamping with warm and with the coldest oil, unclamping with the coldest.
 * Clamping is the transient of `clamp-sequence`; unclamping is the same with the sides changed, and springs push their
 * cylinders back against the loss of the return line. What is missing is listed; nothing is put in its place.
 * Assumed: as `clamp-sequence`; laminar lines; density at 15 °C at any temperature; a valve loses less than its rated
 * loss in proportion to flow; a spring gives its least force over the whole stroke; fittings lose nothing.
 * Sources: Hagen–Poiseuille; ASTM D341 for viscosity over temperature.
 */
export function actuate(input: ActuationInput): ActuationResult {
  const common = new Figures();
  const groups = takeGroups(common, input.groups);
  const oil = takeOil(common, input);
  const pump = takePump(common, input);
  const valve = takeValve(common, input);
  const supply = common.takeLine(input.lines.supply, 'supplyLine');
  const clamp = common.takeLine(input.lines.clamp, 'clampLine');
  const tank = common.takeLine(input.lines.tank, 'tankLine');
  const isDouble = input.groups.some(({ acting }) => acting !== 'single');
  const unclamp = isDouble ? common.takeLine(input.lines.unclamp, 'unclampLine') : [];
  const returnPressurePa = common.take(input.returnPressurePa, 'returnPressurePa', null, isNotNegative);

  const own = new Figures();
  const switchRisingPa = own.take(input.switchRisingPa, 'setPointPa', null, isPositive);
  if (input.switchAt === null) own.missing.push({ field: 'switchAt', ref: null });
  const switchAt = input.switchAt ?? 'manifold';

  const toCircuit = (way: 'clamp' | 'unclamp', which: readonly Group[], at: Conditions): ClampCircuit => {
    const [to, from] = way === 'clamp' ? [clamp, unclamp] : [unclamp, clamp];
    const loss = (pieces: readonly Piece[]): number => toResistance(pieces, at.viscosityM2PerS, oil.densityKgPerM3);
    const lineVolumeM3 = sumOf(to, toVolume);
    return {
      freeFlowM3PerS: at.freeFlowM3PerS,
      stallPressurePa: at.stallPressurePa,
      supplyResistance: loss(supply) + valve + loss(to),
      returnResistance: loss(from) + valve + loss(tank),
      lineVolumeM3,
      oilModulusPa: oil.modulusPa,
      airFraction: oil.airFraction,
      polytropic: POLYTROPIC,
      hoseCompliance: sumOf(to, (piece) => toVolume(piece) * piece.compliance) / lineVolumeM3,
      groups: which.map((group) => {
        const [piston, annulus] = [toArea(group.boreM), toArea(group.boreM) - toArea(group.rodM)];
        const [drive, back] = way === 'clamp' ? [piston, annulus] : [annulus, piston];
        const isSpring = group.acting === 'single';
        return {
          count: group.count,
          pistonM2: drive,
          annulusM2: isSpring ? 0 : back,
          strokeM: group.strokeM,
          frictionN: group.frictionN + (isSpring ? group.springForceN : returnPressurePa * back),
          viscousNsPerM: group.viscousFrictionNsPerM,
          stiffnessNPerM: group.contactStiffnessNPerM,
        };
      }),
    };
  };

  const toClamping = (at: Conditions): ClampMovement | null => {
    const circuit = toCircuit('clamp', groups, at);
    const pressurePa = toManifoldPressure(circuit, switchRisingPa, switchAt);
    const mark: PressureMark = { pressurePa, timeS: pressurePa <= 0 ? 0 : null };
    const run = runCircuit(circuit, 0, LONGEST_S, pressurePa < at.stallPressurePa ? [mark] : [], MOST_STEPS);
    if (run === null) return null;
    const first = groups.reduce<number | null>((earliest, { role }, index) => {
      const time = run.contactsS[index] ?? null;
      return role !== 'clamp' || time === null || (earliest !== null && earliest <= time) ? earliest : time;
    }, null);
    const areas = groups.map(({ boreM }) => toArea(boreM));
    return {
      timeToSwitchS: mark.timeS ?? 'never',
      timeToContactS: toLast(run.contactsS),
      pressureAtFirstContactPa: first === null ? null : Number(run.pressures[run.times.indexOf(first)]),
      peakFlowsM3PerS: toPeakFlows(run, areas),
    };
  };

  const toUnclamping = (at: Conditions): number | 'never' | null => {
    const driven = groups.filter(({ acting }) => acting === 'double');
    const sprung = groups.filter(({ acting }) => acting === 'single');
    const run = driven.length === 0 ? null : runCircuit(toCircuit('unclamp', driven, at), 0, LONGEST_S, [], MOST_STEPS);
    if (driven.length > 0 && run === null) return null;
    const back = toResistance([...clamp, ...tank], at.viscosityM2PerS, oil.densityKgPerM3) + valve;
    const times = [run === null ? 0 : toLast(run.contactsS), toSpringReturn(sprung, back, returnPressurePa)];
    return times.includes('never') ? 'never' : Math.max(...times.map(Number));
  };

  const clampMissing = [...common.missing, ...own.missing];
  const { freeFlowM3PerS, stallPressurePa, stallPressureLowPa } = pump;
  const warm = { freeFlowM3PerS, stallPressurePa, viscosityM2PerS: oil.warmM2PerS };
  const cold = { freeFlowM3PerS, stallPressurePa: stallPressureLowPa, viscosityM2PerS: oil.coldM2PerS };
  const canClamp = clampMissing.length === 0;
  return {
    warm: canClamp ? toClamping(warm) : null,
    cold: canClamp ? toClamping(cold) : null,
    unclampColdS: common.missing.length === 0 ? toUnclamping(cold) : null,
    clampMissing,
    unclampMissing: common.missing,
  };
}
