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
  readonly groups: readonly CircuitGroup[];
}

/** State: pressure at the manifold, oil pumped since the start, position of each group. */
export const PRESSURE = 0;
export const PUMPED = 1;
export const FIRST_GROUP = 2;

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
}

export function makeEvaluation(groups: number): Evaluation {
  return {
    rates: new Float64Array(FIRST_GROUP + groups),
    pressureByPressure: 0,
    pumpedByPressure: 0,
    pressureByPosition: new Float64Array(groups),
    speedByPressure: new Float64Array(groups),
    back: { pressurePa: 0, slope: 0 },
  };
}

/**
 * Pressure of the return line: the one p_ret ≥ 0 that fits R·Σ of what the moving groups push out. Starting from all
 * groups that the pressure drives, those that the return pressure stops are left out until none is left to leave out:
 * each round's pressure is at most the true one, so that nobody is left out wrongly.
 */
function findReturn(
  { groups, returnResistance }: ClampCircuit,
  pressurePa: number,
  isInContact: readonly boolean[],
  into: { pressurePa: number; slope: number },
): void {
  into.pressurePa = 0;
  into.slope = 0;
  if (returnResistance === 0) return;
  let moving = -1;
  for (let round = 0; round <= groups.length; round += 1) {
    let driven = 0;
    let drivenSlope = 0;
    let held = 1;
    let count = 0;
    for (let index = 0; index < groups.length; index += 1) {
      const group = groups[index] as CircuitGroup;
      const drive = pressurePa * group.pistonM2 - group.frictionN;
      if (isInContact[index] || drive <= into.pressurePa * group.annulusM2) continue;
      const gain = (returnResistance * group.count * group.annulusM2) / group.viscousNsPerM;
      driven += gain * drive;
      drivenSlope += gain * group.pistonM2;
      held += gain * group.annulusM2;
      count += 1;
    }
    if (count === moving) return;
    moving = count;
    into.pressurePa = driven / held;
    into.slope = drivenSlope / held;
  }
}

/** 1/K of oil, air and hose at a pressure, and its derivative; the formula of `effective-bulk-modulus`. */
function toCompliance(circuit: ClampCircuit, pressurePa: number): { value: number; slope: number } {
  const { oilModulusPa, airFraction, polytropic, hoseCompliance } = circuit;
  if (airFraction === 0) return { value: 1 / oilModulusPa + hoseCompliance, slope: 0 };
  const absolute = pressurePa + ATMOSPHERE_PA;
  const oil = (1 - airFraction) * Math.exp(-pressurePa / oilModulusPa);
  const air = airFraction * (ATMOSPHERE_PA / absolute) ** (1 / polytropic);
  const airRate = 1 / (polytropic * absolute);
  const volume = oil + air;
  const shrink = oil / oilModulusPa + air * airRate;
  const shrinkSlope = -oil / oilModulusPa ** 2 - air * airRate * (airRate + 1 / absolute);
  return {
    value: shrink / volume + hoseCompliance,
    slope: (shrinkSlope * volume + shrink * shrink) / (volume * volume),
  };
}

/** Flow of the pump into the manifold, the supply line's loss solved in. */
export function toPumpFlow(circuit: ClampCircuit, pressurePa: number): { flow: number; slope: number } {
  const { freeFlowM3PerS, stallPressurePa, supplyResistance } = circuit;
  if (pressurePa >= stallPressurePa) return { flow: 0, slope: 0 };
  const throttled = freeFlowM3PerS / (1 + (freeFlowM3PerS * supplyResistance) / stallPressurePa);
  return { flow: throttled * (1 - pressurePa / stallPressurePa), slope: -throttled / stallPressurePa };
}

/** The model of `clamp-sequence` at a state; with `withJacobian` its derivatives too. */
export function evaluateCircuit(
  circuit: ClampCircuit,
  state: Float64Array,
  isInContact: readonly boolean[],
  into: Evaluation,
): void {
  const { groups, lineVolumeM3 } = circuit;
  const pressurePa = state[PRESSURE] as number;
  const pump = toPumpFlow(circuit, pressurePa);
  const { back } = into;
  findReturn(circuit, pressurePa, isInContact, back);
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
        speed = drive / viscousNsPerM;
        slope = (pistonM2 - back.slope * annulusM2) / viscousNsPerM;
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
}

/** Manifold pressure at which the switch makes: its own, or where the pump's end of the supply line reaches it [Pa]. */
export function toManifoldPressure(
  circuit: ClampCircuit,
  switchRisingPa: number,
  switchAt: 'manifold' | 'pump',
): number {
  if (switchAt === 'manifold') return switchRisingPa;
  const throttle = (circuit.freeFlowM3PerS * circuit.supplyResistance) / circuit.stallPressurePa;
  return switchRisingPa * (1 + throttle) - throttle * circuit.stallPressurePa;
}
