import type { ClampCircuit } from '../filling/clamp-circuit.js';
import { toLetDownTime } from '../filling/let-down.js';
import { runCircuit, type CircuitRun, type PressureMark } from '../filling/run-circuit.js';
import {
  toCircuit,
  toMostHeld,
  toMovement,
  toPressed,
  toPressures,
  toSensed,
  toSwitching,
  withLineBehind,
  type Movement,
} from './actuation-circuit.js';
import { takeKnown, type Conditions, type Known, type Way } from './actuation-figures.js';
import type { ActuationInput, ActuationResult, Arriving, ClampMovement } from './actuation.types.js';
import { lossOf, lossOfValve, toReturnLoss, toSides } from './circuit-losses.js';
import { sumOf } from './figures.js';
import { followPhases, toFormerSpringReturn } from './spring-return.js';

/** What is not there within ten minutes is taken as never. */
const LONGEST_S = 600;
/** A circuit takes a few hundred; one with figures that no circuit has is given up early. */
const MOST_STEPS = 20_000;
const OPTIONS = { mostSteps: MOST_STEPS, isTracked: false };
/** Its error is far below that of any figure of a circuit. */
const COARSE = { ...OPTIONS, tolerance: 3e-4 };
/** Records that kept their inputs are followed as they were. */
const optionsOf = ({ isFromFacts }: Known) => (isFromFacts ? COARSE : OPTIONS);

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

/** What goes through the clamp side of one cylinder of each group at its highest speed: into it while clamping, out of it while unclamping. */
const toPeakFlows = ({ groups }: Known, speeds: readonly number[]): number[] =>
  groups.map((group, index) => toSides(group, 'clamp')[0] * Number(speeds[index]));

/** When what arrives, at which pressure, and how fast it went. */
function toArriving(known: Known, run: CircuitRun): Arriving {
  const first = known.groups.reduce<number | null>((earliest, { role }, index) => {
    const time = run.contactsS[index] ?? null;
    return role !== 'clamp' || time === null || (earliest !== null && earliest <= time) ? earliest : time;
  }, null);
  const isHeldUp = known.isFromFacts && known.feed.opensAtPa.supply !== null;
  return {
    timeToContactS: toLast(run.contactsS),
    contactsS: run.contactsS,
    // Before a sequence valve of the supply line stands more than at the clamps, of which nobody knows how much is left there.
    pressureAtFirstContactPa: first === null || isHeldUp ? null : Number(run.pressures[run.times.indexOf(first)]),
    ...(known.isFromFacts ? {} : { peakFlowsM3PerS: toPeakFlows(known, toMeanSpeeds(run)) }),
  };
}

/** The most that the switch senses, where it senses soonest, while something still moves; null: something never arrives. */
function toMostMoving(known: Known, movement: Movement, run: CircuitRun): number | null {
  if (run.contactsS.includes(null)) return null;
  const last = Math.max(...run.contactsS.map(Number));
  const moving = run.pressures.filter((_pressure, index) => Number(run.times[index]) <= last);
  return toSensed(known, movement, Math.max(...moving));
}

/** The same where it is most: the thickest oil holds what comes back, and the pump gives all that it can at the air set. */
function findMostMoving(known: Known, warm: Conditions): number | null {
  const { pump, oil } = known;
  const stallPressurePa = Math.max(pump.stallPressurePa, pump.steepestPa ?? 0);
  const at: Conditions = {
    ...warm,
    freeFlowM3PerS: pump.freeFlowM3PerS,
    stallPressurePa,
    viscosityM2PerS: oil.coldM2PerS,
  };
  const movement = toMovement(known, 'clamp', known.groups, at);
  const circuit = withLineBehind(known, 'clamp', movement.circuit, at);
  const run = runCircuit(circuit, 0, LONGEST_S, [], COARSE);
  // Behind a reducing valve the circuit rises no further than its setting.
  return run && Math.min(toMostMoving(known, movement, run) ?? Infinity, pump.stallPressurePa);
}

function toClamping(known: Known, at: Conditions): ClampMovement | null {
  const movement = toMovement(known, 'clamp', known.groups, at);
  const circuit = withLineBehind(known, 'clamp', movement.circuit, at);
  const { latestPa, soonestPa, setPa } = toSwitching(known, movement);
  const toMark = (pressurePa: number): PressureMark => ({ pressurePa, timeS: pressurePa <= 0 ? 0 : null });
  const latest = toMark(latestPa);
  const soonest = soonestPa === latestPa ? latest : toMark(soonestPa);
  const marks = [...new Set([latest, soonest])].filter(({ pressurePa }) => pressurePa < at.stallPressurePa);
  const run = runCircuit(circuit, 0, LONGEST_S, marks, optionsOf(known));
  if (run === null) return null;
  return {
    timeToSwitchS: latest.timeS ?? 'never',
    soonestSwitchS: soonest.timeS ?? 'never',
    atSwitch: latest.timeS === null ? null : toPressures(known, movement, Math.max(0, setPa)),
    ...toArriving(known, run),
  };
}

const isSprung = ({ groups }: Known): boolean => groups.every(({ acting }) => acting === 'single');

function toUnclamping(known: Known, at: Conditions): number | 'never' | null {
  const all = toCircuit(known, 'unclamp', known.groups, at);
  if (isSprung(known)) return afterLetDown(known, all, at, followPhases(all).timeS);
  const run = runCircuit(withLineBehind(known, 'unclamp', all, at), 0, LONGEST_S, [], COARSE);
  if (run === null) return null;
  // What its spring cannot push moves at no time.
  const isHeld = all.groups.some(({ pistonM2, frictionN, strokeM }) => pistonM2 === 0 && frictionN >= 0 && strokeM > 0);
  return isHeld ? 'never' : toLast(run.contactsS);
}

/** Where springs push alone: with the time in which the clamp line lets down what it holds, before a spring pushes anything. */
function afterLetDown(known: Known, opening: ClampCircuit, at: Conditions, timeS: number | 'never'): number | 'never' {
  const springs = known.groups.filter(({ strokeM }) => strokeM > 0);
  if (timeS === 'never' || springs.length === 0) return timeS;
  const heldPa = Math.min(
    ...springs.map((group) => (group.springForceN - group.frictionN) / toSides(group, 'clamp')[0]),
  );
  const { groups, returnPressurePa } = known;
  const letDownS = toLetDownTime({
    ...{ pressed: toPressed(known, 'clamp', groups), opening, returnPressurePa },
    ...{ fromPa: toMostHeld(known, 'clamp'), toPa: heldPa },
    resistanceAt: (flowM3PerS) => toReturnLoss(known, 'unclamp', at, flowM3PerS),
  });
  return timeS + letDownS;
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
  freeFlowM3PerS: pump.freeFlowM3PerS,
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

/** When what arrives where least is lost, the line behind empty from the start. */
function findSwiftest(known: Known, warm: Conditions): Arriving | null {
  const at = toSwiftest(known, warm);
  const run = runCircuit(toCircuit(known, 'clamp', known.groups, at), 0, LONGEST_S, [], COARSE);
  return run && toArriving(known, run);
}

/** Most oil that goes through the clamp side of one cylinder of each group: on its way in, and back; null: the most of the pump is not known. */
function toMostFlows(known: Known, warm: Conditions, way: Way): readonly number[] | null {
  const at = toSwiftest(known, warm);
  if (Number.isNaN(at.stallPressurePa)) return null;
  const moving = way === 'clamp' ? known : atContact(known);
  const circuit = toCircuit(moving, way, moving.groups, at);
  return toPeakFlows(known, followPhases(circuit).peakSpeeds);
}

/** How long what moves first takes all that the pump gives [s]: it gives less the nearer it comes to its stall. */
const toWait = ({ movingFirst = [] }: ActuationInput, { freeFlowM3PerS, stallPressurePa }: Conditions): number =>
  sumOf(movingFirst, ({ volumeM3, movesAtPa }) => {
    const share = 1 - Number(movesAtPa) / stallPressurePa;
    return share > 0 ? Number(volumeM3) / (freeFlowM3PerS * share) : Infinity;
  });

function addTime<Time extends number | 'never' | null>(timeS: Time, waitS: number): Time | number | 'never' {
  if (typeof timeS !== 'number' || waitS === 0) return timeS;
  return timeS + waitS > LONGEST_S ? 'never' : timeS + waitS;
}

/** The same after what moves first. */
const later = (movement: ClampMovement | null, waitS: number): ClampMovement | null =>
  movement && {
    ...movement,
    timeToContactS: addTime(movement.timeToContactS, waitS),
    timeToSwitchS: addTime(movement.timeToSwitchS, waitS),
    soonestSwitchS: addTime(movement.soonestSwitchS, waitS),
  };

/**
 * How a circuit's cylinders move: clamping with warm and with the coldest oil, unclamping with the coldest.
 * Clamping is the transient of `clamp-sequence`; unclamping is the same with the sides changed, and springs push their
 * cylinders back against the loss of the return line. What is missing is listed; nothing is put in its place.
 * Pump, manifold, clamp line and cylinders have pressures of their own: between them lie the losses of supply line, valve, clamp line and
 * what stands in them. A cylinder that pulls clamps by its annulus and unclamps by its piston. What lies behind a sequence valve stands
 * still until it opens, and then takes what keeps the pressure before it there; a flow control lets no more through than its flow.
 * Other circuits that move by the same code are taken to move first: oil goes where it meets least.
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
  const isFlowAsked = input.isReturnFlowAsked === true;
  const isArrivalAsked = known.isFromFacts && known.groups.some(({ role }) => role === 'support');
  const toOpen = known.isFromFacts ? toUnclamping : toFormerUnclamping;
  return {
    warm: canClamp ? later(toClamping(known, warm), toWait(input, warm)) : null,
    cold: canClamp ? later(toClamping(known, cold), toWait(input, cold)) : null,
    ...(known.isFromFacts ? { mostMovingPa: canClamp ? findMostMoving(known, warm) : null } : {}),
    ...(isArrivalAsked ? { swiftest: canClamp ? findSwiftest(known, warm) : null } : {}),
    unclampColdS: missing.length > 0 ? null : addTime(toOpen(known, cold), toWait(input, cold)),
    ...(input.isUnclampWarmAsked === true && missing.length === 0
      ? { unclampWarmS: addTime(toOpen(known, warm), toWait(input, warm)) }
      : {}),
    flowsM3PerS: isFlowAsked && canClamp ? toMostFlows(known, warm, 'clamp') : null,
    returnFlowsM3PerS: isFlowAsked && canClamp ? toMostFlows(known, warm, 'unclamp') : null,
    clampMissing,
    unclampMissing: missing,
    usualFittings: sumOf(
      Object.values(known.feed.lines),
      ({ fittings }) => fittings.filter(({ isUsual }) => isUsual).length,
    ),
  };
}
