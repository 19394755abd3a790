import { requireFinite } from '../errors.js';

export interface TappingTorqueInput {
  /** k_c: specific cutting force for tapping [Pa], 0 <= k_c */
  kcPa: number;
  /** P_t: pitch of the thread [m], 0 <= P_t */
  pitchM: number;
  /** D: nominal diameter [m], 0 <= D */
  diameterM: number;
  /** w: factor for wear [1], 0 <= w */
  wear: number;
  /** n: speed of the spindle [Hz], 0 <= n */
  speedHz?: number | undefined;
}
export interface TappingTorqueResult {
  /** M: torque [N.m] */
  torqueNm: number;
  /** P: power [W]; left out without a speed */
  powerW?: number;
}
/**
 * Torque and power of tapping a thread.
 *
 * @formula
 * M = k_c * P_t^2 * D / 8 * w
 * P = M * 2 * pi * n
 * @assumes The specific force is one for tapping, which is higher than that of milling.
 * @range Unalloyed steel 2300, tempered 2600, austenitic 3200, grey iron 1250, aluminium 680 to 800 N/mm² (published with the formula).
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example m8
 * in  kcPa=2300e6 pitchM=1.25e-3 diameterM=0.008 wear=1 speedHz=5
 * out torqueNm=3.59375 powerW=112.9009859883832
 * @source Published tapping formula with its values of kc.
 */
export function tappingTorque(input: TappingTorqueInput): TappingTorqueResult {
  requireFinite(input);
  const { kcPa, pitchM, diameterM, wear, speedHz } = input;
  const torqueNm = ((kcPa * pitchM ** 2 * diameterM) / 8) * wear;
  return speedHz === undefined ? { torqueNm } : { torqueNm, powerW: torqueNm * 2 * Math.PI * speedHz };
}
