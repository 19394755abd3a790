import type { ClampCircuit } from '../filling/clamp-circuit.js';
import { toLetDownTime } from '../filling/let-down.js';
import { runCircuit, type CircuitRun, type PressureMark } from '../filling/run-circuit.js';
import { toCircuit, toMovement, toPressures, toSwitching } from './actuation-circuit.js';
import { takeKnown, type Conditions, type Known } from './actuation-figures.js';
import type { ActuationInput, ActuationResult, ClampMovement } from './actuation.types.js';
import { lossOf, lossOfValve, toLetDownLoss, toSides } from './circuit-losses.js';
import { sumOf } from './figures.js';
import { followSprings, toFormerSpringReturn } from './spring-return.js';

/** What is not there within ten minutes is taken as never. */
const LONGEST_S = 600;
/** A circuit takes a few hundred; one with figures that no circuit has is given up early. */
const MOST_STEPS = 20_000;
const OPTIONS = { mostSteps: MOST_STEPS, isTracked: false };
/** Its error is far below that of any figure of a circuit. Records that kept their inputs are followed as they were. */
const optionsOf = ({ isFromFacts }: Known) => (isFromFacts ? { ...OPTIONS, tolerance: 1e-5 } : OPTIONS);

function toLast(times: readonly (number | null)[]): number | 'never' {
  return times.reduce<number | 'never'>(
    (last, time) => (last === 'never' || time === null ? 'never' : Math.max(last, time)),
    0,
  );
}

/** Between the steps: records that kept their inputs took it so. */
function toMeanSpeeds(run: CircuitRun): number[] {
  return run.positions.map((track) => {
    let peak = 0;
    for (let at = 1; at < track.length; at += 1) {
      // A step may be shorter than the clock's last digit; nothing has moved in it.
      const time = Number(run.times[at]) - Number(run.times[at - 1]) + Number.MIN_VALUE;
      peak = Math.max(peak, (Number(track[at]) - Number(track[at - 1])) / time);
    }
    return peak;
  });
}

const toPeakSpeeds = (known: Known, run: CircuitRun): readonly number[] =>
  known.isFromFacts ? run.peakSpeeds : toMeanSpeeds(run);

/** What goes through the clamp side of one cylinder of each group at its highest speed: into it while clamping, out of it while unclamping. */
const toPeakFlows = ({ groups }: Known, speeds: readonly number[]): number[] =>
  groups.map((group, index) => toSides(group, 'clamp')[0] * Number(speeds[index]));

function toClamping(known: Known, at: Conditions): ClampMovement | null {
  const { groups } = known;
  const movement = toMovement(known, 'clamp', groups, at);
  const { circuit } = movement;
  const { latestPa, soonestPa } = toSwitching(known, movement);
  const toMark = (pressurePa: number): PressureMark => ({ pressurePa, timeS: pressurePa <= 0 ? 0 : null });
  const latest = toMark(latestPa);
  const soonest = soonestPa === latestPa ? latest : toMark(soonestPa);
  const marks = [...new Set([latest, soonest])].filter(({ pressurePa }) => pressurePa < at.stallPressurePa);
  const run = runCircuit(circuit, 0, LONGEST_S, marks, optionsOf(known));
  if (run === null) return null;
  const first = groups.reduce<number | null>((earliest, { role }, index) => {
    const time = run.contactsS[index] ?? null;
    return role !== 'clamp' || time === null || (earliest !== null && earliest <= time) ? earliest : time;
  }, null);
  return {
    timeToSwitchS: latest.timeS ?? 'never',
    soonestSwitchS: soonest.timeS ?? 'never',
    atSwitch: latest.timeS === null ? null : toPressures(known, movement, Math.max(0, latestPa)),
    timeToContactS: toLast(run.contactsS),
    contactsS: run.contactsS,
    pressureAtFirstContactPa: first === null ? null : Number(run.pressures[run.times.indexOf(first)]),
    peakFlowsM3PerS: toPeakFlows(known, toPeakSpeeds(known, run)),
  };
}

/** How it opens: when all are open, and how fast each group goes at most. */
interface Opened {
  timeS: number | 'never';
  peakFlowsM3PerS: readonly number[];
}

function toUnclamping(known: Known, at: Conditions): Opened | null {
  const { groups } = known;
  const all = toCircuit(known, 'unclamp', groups, at);
  if (groups.every(({ acting }) => acting === 'single')) {
    const { timeS, peakSpeeds } = followSprings(all);
    return { timeS: afterLetDown(known, all, at, timeS), peakFlowsM3PerS: toPeakFlows(known, peakSpeeds) };
  }
  const run = runCircuit(all, 0, LONGEST_S, [], optionsOf(known));
  if (run === null) return null;
  // What its spring cannot push moves at no time.
  const isHeld = all.groups.some(({ pistonM2, frictionN, strokeM }) => pistonM2 === 0 && frictionN >= 0 && strokeM > 0);
  const timeS = isHeld ? 'never' : afterLetDown(known, all, at, toLast(run.contactsS));
  return { timeS, peakFlowsM3PerS: toPeakFlows(known, toPeakSpeeds(known, run)) };
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
  const span = { fromPa: pump.stallPressurePa, toPa: heldPa, returnPressurePa };
  return timeS + toLetDownTime({ clamped, opening, resistanceAt: toLetDownLoss(known, at), ...span });
}

/** As records took it that kept their inputs: what oil drives, and what springs push, each with the lines for itself. */
function toFormerUnclamping(known: Known, at: Conditions): number | 'never' | null {
  const { groups, feed, returnPressurePa } = known;
  const { lines } = feed;
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
  const resistance = lossOf(known, both, at, at.freeFlowM3PerS) + lossOfValve(known, at, at.freeFlowM3PerS);
  const back = { resistance, returnPressurePa, limitM3PerS };
  const returned = sprung.map((group) => ({ ...group, areaM2: toSides(group, 'clamp')[0] }));
  const times = [run === null ? 0 : toLast(run.contactsS), toFormerSpringReturn(returned, back)];
  return times.includes('never') ? 'never' : Math.max(...times.map(Number));
}

/** As fast as anything goes: with warm oil that loses least, on the line of the pump itself, which a reducing valve bends only near its setting. */
const toSwiftest = ({ pump }: Known, warm: Conditions): Conditions => ({
  ...warm,
  losses: 'least',
  stallPressurePa: Math.max(warm.stallPressurePa, pump.steepestPa ?? 0),
});

/** A spring pushes hardest where it starts, at contact. */
const atContact = (known: Known): Known => ({
  ...known,
  groups: known.groups.map((group) => ({
    ...group,
    springForceN: Math.max(group.springForceN, group.springForceAtContactN),
  })),
});

const mostOf = (flows: readonly number[], others: readonly number[]): readonly number[] =>
  flows.map((flow, index) => Math.max(flow, Number(others[index])));

/** What goes into the clamps at the most. */
function withSwiftest(known: Known, warm: Conditions, movement: ClampMovement): ClampMovement | null {
  const swiftest = toSwiftest(known, warm);
  const run = runCircuit(toCircuit(known, 'clamp', known.groups, swiftest), 0, LONGEST_S, [], optionsOf(known));
  if (run === null) return null;
  return { ...movement, peakFlowsM3PerS: mostOf(movement.peakFlowsM3PerS, toPeakFlows(known, run.peakSpeeds)) };
}

/** What comes back from the clamps at the most; null: not known. */
function toReturnFlows(known: Known, warm: Conditions, cold: Opened): readonly number[] | null {
  const strongest = atContact(known);
  const swiftest = toUnclamping(strongest, toSwiftest(known, warm));
  return swiftest && mostOf(cold.peakFlowsM3PerS, swiftest.peakFlowsM3PerS);
}

/**
 * How a circuit's cylinders move: clamping with warm and with the coldest oil, unclamping with the coldest.
 * Clamping is the transient of `clamp-sequence`; unclamping is the same with the sides changed, and springs push their
 * cylinders back against the loss of the return line. What is missing is listed; nothing is put in its place.
 * Pump, manifold, clamp line and cylinders have pressures of their own: between them lie the losses of supply line, valve, clamp line and
 * what stands in them. A cylinder that pulls clamps by its annulus and unclamps by its piston. What lies behind a sequence valve stands
 * still until it opens, and then takes what keeps the pressure before it there; a flow control lets no more through than its flow.
 * Times stand on the most that is lost: each line, fitting and valve at the most oil that may pass it, where it is turbulent there, and the
 * valve in thicker oil as if it were laminar; flows on the least.
 * Assumed: as `clamp-sequence`; density at 15 °C at any temperature; smooth lines; a spring gives its least force over the whole way back, and what it has at contact over the whole stroke; the oil that gives way lies at the cylinders.
 * Sources: Hagen–Poiseuille; Blasius 1913; ASTM D341 for viscosity over temperature; fittings by equivalent length (Crane TP-410, from memory).
 */
export function actuate(input: ActuationInput): ActuationResult {
  const { known, missing, toClamp } = takeKnown(input);
  const clampMissing = [...missing, ...toClamp];
  const { pump, oil } = known;
  const losses = known.isFromFacts ? 'most' : 'former';
  const warm: Conditions = {
    ...{ freeFlowM3PerS: pump.freeFlowM3PerS, stallPressurePa: pump.stallPressurePa },
    ...{ viscosityM2PerS: oil.warmM2PerS, losses },
  };
  const cold: Conditions = {
    ...{ freeFlowM3PerS: pump.freeFlowLowM3PerS, stallPressurePa: pump.stallPressureLowPa },
    ...{ viscosityM2PerS: oil.coldM2PerS, losses },
  };
  const canClamp = clampMissing.length === 0;
  const opened = missing.length > 0 || !known.isFromFacts ? null : toUnclamping(known, cold);
  const isFlowAsked = input.isReturnFlowAsked === true;
  const clamping = canClamp ? toClamping(known, warm) : null;
  return {
    warm: clamping !== null && isFlowAsked ? withSwiftest(known, warm, clamping) : clamping,
    cold: canClamp ? toClamping(known, cold) : null,
    unclampColdS: missing.length > 0 || known.isFromFacts ? (opened?.timeS ?? null) : toFormerUnclamping(known, cold),
    returnFlowsM3PerS: isFlowAsked && canClamp && opened !== null ? toReturnFlows(known, warm, opened) : null,
    clampMissing,
    unclampMissing: missing,
    usualFittings: sumOf(
      Object.values(known.feed.lines),
      ({ fittings }) => fittings.filter(({ isUsual }) => isUsual).length,
    ),
  };
}
