import { ATMOSPHERE_PA } from '../constants.js';

/** One group of equal cylinders as the transient needs it. */
export interface CircuitGroup {
  readonly count: number;
  readonly pistonM2: number;
  readonly annulusM2: number;
  readonly strokeM: number;
  readonly frictionN: number;
  readonly viscousNsPerM: number;
  readonly stiffnessNPerM: number;
  /** opening pressure of the sequence valve before it [Pa]; left out: nothing stands before it */
  readonly opensAtPa?: number | undefined;
}

/** A line's oil, air and hoses. */
export type LineFilling = Pick<
  ClampCircuit,
  'lineVolumeM3' | 'oilModulusPa' | 'airFraction' | 'polytropic' | 'hoseCompliance'
>;

/**
 * The line behind, which was pressed until now and lets down while the movement begins. Without it that line holds nothing, and has the
 * pressure that its loss makes of what is pushed out.
 */
export interface LineBehind extends LineFilling {
  /** above what stands in the tank line [Pa] */
  readonly startPa: number;
  /** what stands in the tank line [Pa] */
  readonly standingPa: number;
  /** what it loses beside, with the square of the flow [Pa.s2/m6] */
  readonly squareLoss: number;
  /** it pressed clamps against the workpiece, which spring back */
  readonly isAtWorkpiece: boolean;
}

export interface ClampCircuit {
  readonly freeFlowM3PerS: number;
  readonly stallPressurePa: number;
  readonly supplyResistance: number;
  readonly returnResistance: number;
  readonly lineVolumeM3: number;
  readonly oilModulusPa: number;
  readonly airFraction: number;
  readonly polytropic: number;
  /** 1/K of the hose, 0 without one [1/Pa] */
  readonly hoseCompliance: number;
  /** most flow that a flow control lets pass to the cylinders, and back from them [m3/s]; left out: none stands in that line */
  readonly supplyLimitM3PerS?: number;
  readonly returnLimitM3PerS?: number;
  readonly groups: readonly CircuitGroup[];
  /** left out: it holds nothing */
  readonly behind?: LineBehind | undefined;
}

/** State: pressure at the manifold, oil pumped since the start, position of each group; then the pressure of the line behind, if it holds something. */
export const PRESSURE = 0;
export const PUMPED = 1;
export const FIRST_GROUP = 2;
export const sizeOf = ({ groups, behind }: ClampCircuit): number =>
  FIRST_GROUP + groups.length + (behind === undefined ? 0 : 1);

/** Right-hand side and the parts of its Jacobian that are not zero. */
export interface Evaluation {
  /** dy/dt, laid out as the state */
  readonly rates: Float64Array;
  /** ∂(dp/dt)/∂p */
  pressureByPressure: number;
  /** ∂(dQ/dt)/∂p */
  pumpedByPressure: number;
  /** ∂(dp/dt)/∂xᵢ and ∂(dxᵢ/dt)/∂p */
  readonly pressureByPosition: Float64Array;
  readonly speedByPressure: Float64Array;
  /** pressure of the return line and its derivative */
  readonly back: { pressurePa: number; slope: number };
  /** of a line behind that holds something: ∂(dxᵢ/dt)/∂b, ∂(dp/dt)/∂b, and of db/dt by p, b and xᵢ */
  readonly speedByBehind: Float64Array;
  pressureByBehind: number;
  behindByPressure: number;
  behindByBehind: number;
  readonly behindByPosition: Float64Array;
  /** of the sequence valve before each group, and before the one that is looked at */
  readonly openings: Float64Array;
  opening: number;
  openingSlope: number;
}

export function makeEvaluation(groups: number): Evaluation {
  return {
    rates: new Float64Array(FIRST_GROUP + groups + 1),
    pressureByPressure: 0,
    pumpedByPressure: 0,
    pressureByPosition: new Float64Array(groups),
    speedByPressure: new Float64Array(groups),
    back: { pressurePa: 0, slope: 0 },
    speedByBehind: new Float64Array(groups),
    pressureByBehind: 0,
    behindByPressure: 0,
    behindByBehind: 0,
    behindByPosition: new Float64Array(groups),
    openings: new Float64Array(groups),
    opening: 1,
    openingSlope: 0,
  };
}

/** Share of its opening pressure within which a sequence valve goes from shut to fully open [1]: it then holds what is before it there. */
const OPENING_BAND = 0.01;

/** How far the sequence valve before a group is open [1], and the same by pressure [1/Pa]. */
function toOpening({ opensAtPa }: CircuitGroup, pressurePa: number, into: Evaluation): void {
  into.opening = 1;
  into.openingSlope = 0;
  if (opensAtPa === undefined) return;
  const band = OPENING_BAND * opensAtPa;
  into.opening = Math.min(1, Math.max(0, (pressurePa - opensAtPa) / band));
  if (into.opening > 0 && into.opening < 1) into.openingSlope = 1 / band;
}

/**
 * Pressure of the return line: the one p_ret ≥ 0 that fits R·Σ of what the moving groups push out, or that lets out no more than a flow
 * control passes. Starting from all groups that the pressure drives, those that the return pressure stops are left out until none is left to
 * leave out: each round's pressure is at most the true one, so that nobody is left out wrongly.
 */
function findReturn(
  { groups, returnResistance, returnLimitM3PerS = Infinity }: ClampCircuit,
  pressurePa: number,
  isInContact: readonly boolean[],
  into: Evaluation,
): void {
  const { back } = into;
  back.pressurePa = 0;
  back.slope = 0;
  if (returnResistance === 0) return;
  const most = returnResistance * returnLimitM3PerS;
  let moving = -1;
  for (let round = 0; round <= groups.length; round += 1) {
    let driven = 0;
    let drivenSlope = 0;
    let held = 1;
    let [opened, openedHeld] = [0, 0];
    let count = 0;
    for (let index = 0; index < groups.length; index += 1) {
      const group = groups[index] as CircuitGroup;
      const drive = pressurePa * group.pistonM2 - group.frictionN;
      if (isInContact[index] || drive <= back.pressurePa * group.annulusM2) continue;
      toOpening(group, pressurePa, into);
      const full = (returnResistance * group.count * group.annulusM2) / group.viscousNsPerM;
      const gain = full * into.opening;
      driven += gain * drive;
      drivenSlope += gain * group.pistonM2;
      held += gain * group.annulusM2;
      opened += full * into.openingSlope * drive;
      openedHeld += full * into.openingSlope * group.annulusM2;
      count += 1;
    }
    if (count === moving) return;
    moving = count;
    // What is held back by a flow control rises until no more than its flow is let out.
    const isControlled = driven > most * held;
    const divisor = isControlled ? held - 1 : held;
    back.pressurePa = (isControlled ? driven - most : driven) / divisor;
    back.slope = (drivenSlope + opened - back.pressurePa * openedHeld) / divisor;
  }
}

type Mixture = Pick<ClampCircuit, 'oilModulusPa' | 'airFraction' | 'polytropic'>;
/** Of a volume at atmosphere, what its oil and what its air have left at a pressure [1]. */
export const toOilShare = ({ oilModulusPa, airFraction }: Mixture, pressurePa: number): number =>
  (1 - airFraction) * Math.exp(-pressurePa / oilModulusPa);
export const toAirShare = ({ airFraction, polytropic }: Mixture, pressurePa: number): number =>
  // As a power it takes half as long again; a proof asks for it some thousand times.
  airFraction * Math.exp(Math.log(ATMOSPHERE_PA / (pressurePa + ATMOSPHERE_PA)) / polytropic);

/** 1/K of oil, air and hose at a pressure, and its derivative; the formula of `effective-bulk-modulus`. */
function toCompliance(
  circuit: Mixture & Pick<ClampCircuit, 'hoseCompliance'>,
  pressurePa: number,
): { value: number; slope: number } {
  const { oilModulusPa, airFraction, polytropic, hoseCompliance } = circuit;
  if (airFraction === 0) return { value: 1 / oilModulusPa + hoseCompliance, slope: 0 };
  const absolute = pressurePa + ATMOSPHERE_PA;
  const oil = toOilShare(circuit, pressurePa);
  const air = toAirShare(circuit, pressurePa);
  const airRate = 1 / (polytropic * absolute);
  const volume = oil + air;
  const shrink = oil / oilModulusPa + air * airRate;
  const shrinkSlope = -oil / oilModulusPa ** 2 - air * airRate * (airRate + 1 / absolute);
  return {
    value: shrink / volume + hoseCompliance,
    slope: (shrinkSlope * volume + shrink * shrink) / (volume * volume),
  };
}

/** Flow of the pump into the cylinders at their pressure, the losses on the way solved in. */
export function toPumpFlow(circuit: ClampCircuit, pressurePa: number): { flow: number; slope: number } {
  const { freeFlowM3PerS, stallPressurePa, supplyResistance, supplyLimitM3PerS = Infinity } = circuit;
  if (pressurePa >= stallPressurePa) return { flow: 0, slope: 0 };
  const throttled = freeFlowM3PerS / (1 + (freeFlowM3PerS * supplyResistance) / stallPressurePa);
  const flow = throttled * (1 - pressurePa / stallPressurePa);
  return flow > supplyLimitM3PerS
    ? { flow: supplyLimitM3PerS, slope: 0 }
    : { flow, slope: -throttled / stallPressurePa };
}

/** The model of `clamp-sequence` at a state, with its derivatives. */
export function evaluateCircuit(
  circuit: ClampCircuit,
  state: Float64Array,
  isInContact: readonly boolean[],
  into: Evaluation,
): void {
  const { groups, lineVolumeM3, behind } = circuit;
  const pressurePa = state[PRESSURE] as number;
  const pump = toPumpFlow(circuit, pressurePa);
  const { back } = into;
  if (behind === undefined) findReturn(circuit, pressurePa, isInContact, into);
  else {
    back.pressurePa = state[FIRST_GROUP + groups.length] as number;
    back.slope = 0;
  }
  const oil = toCompliance(circuit, pressurePa);
  let volume = lineVolumeM3;
  let springs = 0;
  let taken = 0;
  let takenSlope = 0;
  for (let index = 0; index < groups.length; index += 1) {
    const group = groups[index] as CircuitGroup;
    const { count, pistonM2, annulusM2, strokeM, frictionN, viscousNsPerM, stiffnessNPerM } = group;
    let speed = 0;
    let slope = 0;
    if (isInContact[index]) {
      volume += count * pistonM2 * strokeM;
      springs += (count * pistonM2 * pistonM2) / stiffnessNPerM;
    } else {
      volume += count * pistonM2 * (state[FIRST_GROUP + index] as number);
      const drive = pressurePa * pistonM2 - back.pressurePa * annulusM2 - frictionN;
      if (drive > 0) {
        toOpening(group, pressurePa, into);
        into.openings[index] = into.opening;
        speed = (into.opening * drive) / viscousNsPerM;
        slope = (into.opening * (pistonM2 - back.slope * annulusM2) + into.openingSlope * drive) / viscousNsPerM;
      }
    }
    into.rates[FIRST_GROUP + index] = speed;
    into.speedByPressure[index] = slope;
    taken += count * pistonM2 * speed;
    takenSlope += count * pistonM2 * slope;
  }
  const compliance = volume * oil.value + springs;
  const rate = (pump.flow - taken) / compliance;
  into.rates[PRESSURE] = rate;
  into.rates[PUMPED] = pump.flow;
  into.pumpedByPressure = pump.slope;
  into.pressureByPressure = (pump.slope - takenSlope - rate * volume * oil.slope) / compliance;
  for (let index = 0; index < groups.length; index += 1) {
    const { count, pistonM2 } = groups[index] as CircuitGroup;
    into.pressureByPosition[index] = isInContact[index] ? 0 : (-rate * count * pistonM2 * oil.value) / compliance;
  }
  if (behind !== undefined) evaluateBehind(circuit, behind, { state, isInContact, compliance }, into);
}

/** Time until a group starts or stops, or a sequence valve begins or ends to open, as pressures move now [s]; Infinity: none does. */
export function toNextKink(
  { groups, behind }: ClampCircuit,
  state: Float64Array,
  isInContact: readonly boolean[],
  { rates, back }: Evaluation,
): number {
  const pressurePa = state[PRESSURE] as number;
  const rate = rates[PRESSURE] as number;
  const backRate = behind === undefined ? back.slope * rate : (rates[FIRST_GROUP + groups.length] as number);
  let next = Infinity;
  const meet = (distance: number, speed: number): void => {
    const timeS = distance / speed;
    if (timeS > 0 && timeS < next) next = timeS;
  };
  for (let index = 0; index < groups.length; index += 1) {
    if (isInContact[index]) continue;
    const { pistonM2, annulusM2, frictionN, opensAtPa } = groups[index] as CircuitGroup;
    const drive = pressurePa * pistonM2 - back.pressurePa * annulusM2 - frictionN;
    meet(-drive, rate * pistonM2 - backRate * annulusM2);
    if (opensAtPa === undefined) continue;
    meet(opensAtPa - pressurePa, rate);
    meet(opensAtPa * (1 + OPENING_BAND) - pressurePa, rate);
  }
  return next;
}

/** Flow that a pressure drives through a loss of R·q + c·q², no more than a flow control passes, and its derivative. */
function toReturnFlow(
  { returnResistance, returnLimitM3PerS }: ClampCircuit,
  { squareLoss }: LineBehind,
  pressurePa: number,
): { flow: number; slope: number } {
  if (pressurePa <= 0) return { flow: pressurePa / returnResistance, slope: 1 / returnResistance };
  const root = Math.sqrt(returnResistance ** 2 + 4 * squareLoss * pressurePa);
  const flow = (2 * pressurePa) / (returnResistance + root);
  const limit = Number(returnLimitM3PerS);
  return flow > limit ? { flow: limit, slope: 0 } : { flow, slope: 1 / root };
}

/** The line behind at a state whose speeds are known: what is pushed into it goes out through its return, or presses its oil together. */
function evaluateBehind(
  circuit: ClampCircuit,
  behind: LineBehind,
  at: { state: Float64Array; isInContact: readonly boolean[]; compliance: number },
  into: Evaluation,
): void {
  const { groups } = circuit;
  const last = FIRST_GROUP + groups.length;
  const pressurePa = at.state[last] as number;
  const out = toReturnFlow(circuit, behind, pressurePa);
  const oil = toCompliance(behind, Math.max(0, pressurePa) + behind.standingPa);
  let volume = behind.lineVolumeM3;
  let [bent, pushed, pushedByPressure, pushedByBehind, takenByBehind] = [0, 0, 0, 0, 0];
  for (let index = 0; index < groups.length; index += 1) {
    const { count, pistonM2, annulusM2, strokeM, viscousNsPerM, stiffnessNPerM } = groups[index] as CircuitGroup;
    const position = at.state[FIRST_GROUP + index] as number;
    const speed = into.rates[FIRST_GROUP + index] as number;
    volume += at.isInContact[index] ? 0 : count * annulusM2 * (strokeM - position);
    if (behind.isAtWorkpiece && position <= 0) bent += (count * annulusM2 * annulusM2) / stiffnessNPerM;
    // What a sequence valve lets through it lets through by its opening.
    const slope = speed > 0 ? (-(into.openings[index] as number) * annulusM2) / viscousNsPerM : 0;
    into.speedByBehind[index] = slope;
    pushed += count * annulusM2 * speed;
    pushedByPressure += count * annulusM2 * (into.speedByPressure[index] as number);
    pushedByBehind += count * annulusM2 * slope;
    takenByBehind += count * pistonM2 * slope;
  }
  const compliance = volume * oil.value + bent;
  const rate = (pushed - out.flow) / compliance;
  into.rates[last] = rate;
  into.pressureByBehind = -takenByBehind / at.compliance;
  into.behindByPressure = pushedByPressure / compliance;
  into.behindByBehind = (pushedByBehind - out.slope - rate * volume * oil.slope) / compliance;
  for (let index = 0; index < groups.length; index += 1) {
    const { count, annulusM2 } = groups[index] as CircuitGroup;
    into.behindByPosition[index] = at.isInContact[index] ? 0 : (rate * count * annulusM2 * oil.value) / compliance;
  }
}

/** Pressure at the cylinders at which the switch of `clamp-sequence` makes: its own, or where the pump's end of the line reaches it [Pa]. */
export function toManifoldPressure(
  circuit: ClampCircuit,
  switchRisingPa: number,
  switchAt: 'manifold' | 'pump',
): number {
  if (switchAt === 'manifold') return switchRisingPa;
  const throttle = (circuit.freeFlowM3PerS * circuit.supplyResistance) / circuit.stallPressurePa;
  return switchRisingPa * (1 + throttle) - throttle * circuit.stallPressurePa;
}

/** A place on the way from pump to cylinders. */
export interface Place {
  /** loss for each flow from the pump to it [Pa.s/m3] */
  readonly resistanceBefore: number;
  /** most flow of the flow control before it [m3/s]; null: none stands there */
  readonly heldToM3PerS: number | null;
}

/** Pressure at a place while the cylinders have theirs [Pa]. */
export function toPressureAt(circuit: ClampCircuit, pressurePa: number, at: Place): number {
  const { stallPressurePa, freeFlowM3PerS, supplyResistance } = circuit;
  const { flow } = toPumpFlow(circuit, pressurePa);
  return at.heldToM3PerS === null
    ? stallPressurePa * (1 - flow / freeFlowM3PerS) - at.resistanceBefore * flow
    : pressurePa + (supplyResistance - at.resistanceBefore) * flow;
}

/** Pressure at the cylinders at which a place reaches a pressure; 0: it is there as soon as the pump runs [Pa]. */
export function toCylinderPressure(circuit: ClampCircuit, placePa: number, at: Place): number {
  if (toPressureAt(circuit, 0, at) >= placePa) return 0;
  const { stallPressurePa, freeFlowM3PerS, supplyResistance } = circuit;
  const ownPerFlow = stallPressurePa / freeFlowM3PerS;
  const flow = (stallPressurePa - placePa) / (ownPerFlow + at.resistanceBefore);
  const unlimited = stallPressurePa - flow * (ownPerFlow + supplyResistance);
  if (at.heldToM3PerS === null) return unlimited;
  // Held to a flow, less is lost behind the control than the pump would lose there.
  return Math.max(unlimited, placePa - (supplyResistance - at.resistanceBefore) * at.heldToM3PerS);
}
