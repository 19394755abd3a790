import type { ClampCircuit } from '../filling/clamp-circuit.js';
import { toLetDownTime } from '../filling/let-down.js';
import { runCircuit, type CircuitRun, type PressureMark } from '../filling/run-circuit.js';
import { lossOf, toCircuit, toPressures, toSides, toSwitching } from './actuation-circuit.js';
import { takeKnown, type Conditions, type Known } from './actuation-figures.js';
import type { ActuationInput, ActuationResult, ClampMovement } from './actuation.types.js';
import { sumOf } from './figures.js';
import { followSprings, toFormerSpringReturn } from './spring-return.js';

/** What is not there within ten minutes is taken as never. */
const LONGEST_S = 600;
/** A circuit takes a few hundred; one with figures that no circuit has is given up early. */
const MOST_STEPS = 20_000;
const OPTIONS = { mostSteps: MOST_STEPS, isTracked: false };

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

function toClamping(known: Known, at: Conditions): ClampMovement | null {
  const { groups } = known;
  const circuit = toCircuit(known, 'clamp', groups, at);
  const { latestPa, soonestPa } = toSwitching(known, circuit, at);
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
    atSwitch: latest.timeS === null ? null : toPressures(known, circuit, at, Math.max(0, latestPa)),
    timeToContactS: toLast(run.contactsS),
    pressureAtFirstContactPa: first === null ? null : Number(run.pressures[run.times.indexOf(first)]),
    peakFlowsM3PerS: toPeakFlows(run, areas),
  };
}

function toUnclamping(known: Known, at: Conditions): number | 'never' | null {
  const { groups } = known;
  const all = toCircuit(known, 'unclamp', groups, at);
  if (groups.every(({ acting }) => acting === 'single')) return afterLetDown(known, all, at, followSprings(all));
  // What its spring cannot push moves at no time.
  if (all.groups.some(({ pistonM2, frictionN, strokeM }) => pistonM2 === 0 && frictionN >= 0 && strokeM > 0)) {
    return 'never';
  }
  const run = runCircuit(all, 0, LONGEST_S, [], OPTIONS);
  return run === null ? null : afterLetDown(known, all, at, toLast(run.contactsS));
}

/** With the time in which the clamp line lets down what it holds, before a spring pushes anything. */
function afterLetDown(known: Known, opening: ClampCircuit, at: Conditions, timeS: number | 'never'): number | 'never' {
  const springs = known.groups.filter(({ acting, strokeM }) => acting === 'single' && strokeM > 0);
  if (timeS === 'never' || springs.length === 0) return timeS;
  const heldPa = Math.min(
    ...springs.map((group) => (group.springForceN - group.frictionN) / toSides(group, 'clamp')[0]),
  );
  const { groups, pump, returnPressurePa } = known;
  const clamped = toCircuit(known, 'clamp', groups, at);
  // Clamped, it was at no more than the pump's stall at the air set.
  return timeS + toLetDownTime({ clamped, opening, fromPa: pump.stallPressurePa, toPa: heldPa, returnPressurePa });
}

/** As records took it that kept their inputs: what oil drives, and what springs push, each with the lines for itself. */
function toFormerUnclamping(known: Known, at: Conditions): number | 'never' | null {
  const { groups, feed, returnPressurePa } = known;
  const { lines, valve } = feed;
  const driven = groups.filter(({ acting }) => acting === 'double');
  const sprung = groups.filter(({ acting }) => acting === 'single');
  const run =
    driven.length === 0 ? null : runCircuit(toCircuit(known, 'unclamp', driven, at), 0, LONGEST_S, [], OPTIONS);
  if (driven.length > 0 && run === null) return null;
  const both = {
    pieces: [...lines.clamp.pieces, ...lines.tank.pieces],
    fittings: [...lines.clamp.fittings, ...lines.tank.fittings],
  };
  const limitM3PerS = feed.limits.from.clamp;
  const back = { resistance: lossOf(known, both, at) + valve, returnPressurePa, limitM3PerS };
  const returned = sprung.map((group) => ({ ...group, areaM2: toSides(group, 'clamp')[0] }));
  const times = [run === null ? 0 : toLast(run.contactsS), toFormerSpringReturn(returned, back)];
  return times.includes('never') ? 'never' : Math.max(...times.map(Number));
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
  const { known, missing, toClamp } = takeKnown(input);
  const clampMissing = [...missing, ...toClamp];
  const { freeFlowM3PerS, stallPressurePa, stallPressureLowPa } = known.pump;
  const warm = { freeFlowM3PerS, stallPressurePa, viscosityM2PerS: known.oil.warmM2PerS };
  const cold = { freeFlowM3PerS, stallPressurePa: stallPressureLowPa, viscosityM2PerS: known.oil.coldM2PerS };
  const canClamp = clampMissing.length === 0;
  const unclamp = known.isFromFacts ? toUnclamping : toFormerUnclamping;
  return {
    warm: canClamp ? toClamping(known, warm) : null,
    cold: canClamp ? toClamping(known, cold) : null,
    unclampColdS: missing.length > 0 ? null : unclamp(known, cold),
    clampMissing,
    unclampMissing: missing,
    usualFittings: sumOf(
      Object.values(known.feed.lines),
      ({ fittings }) => fittings.filter(({ isUsual }) => isUsual).length,
    ),
  };
}
