import { requireFinite } from '../errors.js';

export interface RemovalPowerInput {
  /** K_p: power per rate of removal [Pa], 0 <= K_p */
  specificPowerPa: number;
  /** Q: material removed [m3/s], 0 <= Q */
  removalRateM3PerS: number;
  /** C: factor for the feed [1], 0 <= C */
  feedFactor: number;
  /** W: factor for wear [1], 0 <= W */
  wearFactor: number;
  /** E: efficiency of the drive [1], 0 < E <= 1 */
  efficiency: number;
  /** v: cutting speed [m/s], 0 < v */
  cuttingSpeedMPerS?: number | undefined;
}
export interface RemovalPowerResult {
  /** P_c: power at the cut [W] */
  cuttingPowerW: number;
  /** P_m: power of the motor [W] */
  motorPowerW: number;
  /** F: tangential force [N]; left out without a cutting speed */
  tangentialForceN?: number;
}
/**
 * Power of a cut from the rate of removal, by the power-constant method.
 *
 * @formula
 * P_c = K_p * C * Q * W
 * P_m = P_c / E
 * F = P_c / v
 * @assumes Constants of the same table for Kp and C; 1 kW·s/cm³ = 1000 N/mm².
 * @range Feed factor C: 1.25 at 0.10 mm, 1.08 at 0.20, 1.00 at 0.30, 0.94 at 0.40.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example steel
 * in  specificPowerPa=2.24e9 removalRateM3PerS=1e-6 feedFactor=1 wearFactor=1.25 efficiency=0.8 cuttingSpeedMPerS=2
 * out cuttingPowerW=2800 motorPowerW=3500 tangentialForceN=1400
 * @source Machinery's Handbook, 31st ed., Table 1b (Kp), 28th ed., Table 2 (C).
 */
export function removalPower(input: RemovalPowerInput): RemovalPowerResult {
  requireFinite(input);
  const { specificPowerPa, removalRateM3PerS, feedFactor, wearFactor, efficiency, cuttingSpeedMPerS } = input;
  const cuttingPowerW = specificPowerPa * feedFactor * removalRateM3PerS * wearFactor;
  const result = { cuttingPowerW, motorPowerW: cuttingPowerW / efficiency };
  return cuttingSpeedMPerS === undefined ? result : { ...result, tangentialForceN: cuttingPowerW / cuttingSpeedMPerS };
}
