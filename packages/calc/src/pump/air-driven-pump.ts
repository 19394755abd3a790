import { requireFinite, type CalcNote } from '../errors.js';

export interface AirDrivenPumpInput {
  /** i: piston ratio, oil pressure over air pressure [1], 0 <= i */
  pistonRatio: number;
  /** p_air: gauge air pressure at the pump [Pa], 0 <= p_air */
  airPressurePa: number;
  /** eta: share of the theoretical stall pressure that is reached [1], 0 <= eta <= 1 */
  efficiency: number;
  /** Q_0: flow without back pressure [m3/s], 0 <= Q_0 */
  freeFlowM3PerS?: number | undefined;
  /** p: gauge oil pressure at which the flow is wanted [Pa], 0 <= p */
  pressurePa?: number | undefined;
}
export interface AirDrivenPumpResult {
  /** p_s: pressure at which the pump stalls [Pa] */
  stallPressurePa: number;
  /** Q: flow at the pressure [m3/s]; left out without free flow and pressure */
  flowM3PerS?: number;
  notes: CalcNote[];
}
/**
 * Stall pressure of an air-driven pump and its flow at a pressure, on a straight pump curve.
 *
 * @formula
 * p_s = i * p_air * eta
 * Q = p < p_s ? Q_0 * (1 - p / p_s) : 0
 * @assumes A straight line from free flow to stall (common practice, no source); a real curve hangs below it, more so with starved air.
 * @range Efficiency 0.9 to 1 (common practice). Near stall the flow is uncertain: keep the setting at or below 0.9 of the stall pressure.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example half-way
 * in  pistonRatio=35 airPressurePa=6e5 efficiency=1 freeFlowM3PerS=2e-5 pressurePa=10.5e6
 * out stallPressurePa=21e6 flowM3PerS=1e-5
 * @source Balance of forces on the stepped piston; the straight curve is common practice, no source.
 */
export function airDrivenPump(input: AirDrivenPumpInput): AirDrivenPumpResult {
  requireFinite(input);
  const { pistonRatio, airPressurePa, efficiency, freeFlowM3PerS, pressurePa } = input;
  const stallPressurePa = pistonRatio * airPressurePa * efficiency;
  const notes: CalcNote[] = [];
  if (pressurePa !== undefined && pressurePa > 0.9 * stallPressurePa) {
    notes.push({ code: 'near-stall', parameters: { pressurePa, stallPressurePa, limit: 0.9 } });
  }
  if (freeFlowM3PerS === undefined || pressurePa === undefined) return { stallPressurePa, notes };
  const isMoving = pressurePa < stallPressurePa;
  return { stallPressurePa, flowM3PerS: isMoving ? freeFlowM3PerS * (1 - pressurePa / stallPressurePa) : 0, notes };
}
