import { requireFinite } from '../errors.js';

export interface SwitchWindowInput {
  /** p: least pressure that holds the workpiece [Pa], 0 <= p */
  requiredPa: number;
  /** p_s: working setting [Pa], 0 <= p_s */
  settingPa: number;
  /** b: half width of the setting [Pa], 0 <= b */
  settingTolerancePa: number;
  /** e_s: half width of the switch's falling and rising point, each [Pa], 0 <= e_s */
  switchAccuracyPa: number;
  /** H: rise from the falling to the rising point [Pa], 0 <= H */
  deadbandPa: number;
  /** m: margin above the required pressure [Pa], 0 <= m */
  marginPa: number;
  /** e_g: error of the gauge that the switch is set by [Pa], 0 <= e_g */
  gaugeErrorPa: number;
}
export interface SwitchWindowResult {
  /** f_lo: lowest falling point that still stops in time [Pa] */
  fallingLowestPa: number;
  /** r_hi: highest rising point that is still reached [Pa] */
  risingHighestPa: number;
  /** f_hi: highest falling point whose rising point is still reached [Pa] */
  fallingHighestPa: number;
  feasible: boolean;
  /** f: middle of the window [Pa]; null when there is none */
  recommendedFallingPa: number | null;
  /** w: width of the window, negative when there is none [Pa] */
  slackPa: number;
  /** f_lor: lowest falling point by root sum square [Pa] */
  fallingLowestRssPa: number;
  /** f_hir: highest falling point by root sum square [Pa] */
  fallingHighestRssPa: number;
}
/**
 * Where the falling point of a pressure switch may lie: above what holds the workpiece, below what the setting reaches.
 *
 * @formula
 * f_lo = p + m + e_s + e_g
 * r_hi = p_s - b - e_s - e_g
 * f_hi = r_hi - H
 * w = f_hi - f_lo
 * f_lor = p + m + sqrt(e_s^2 + e_g^2)
 * f_hir = p_s - H - sqrt(b^2 + e_s^2 + e_g^2)
 * @assumes Errors add up at worst; the root sum square takes them as independent. The gauge's error counts: the switch is set by it.
 * @range When not feasible: a better gauge, a smaller deadband, a higher setting or more clamp area; never leave the gauge out.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example feasible
 * in  requiredPa=14e6 settingPa=17.5e6 settingTolerancePa=5e5 switchAccuracyPa=3e5 deadbandPa=12e5 marginPa=0 gaugeErrorPa=4e5
 * out fallingLowestPa=14.7e6 fallingHighestPa=15.1e6 slackPa=4e5 recommendedFallingPa=14.9e6
 * @source Tolerance stack, worst case and root sum square; example reproduced by enumeration of all corners.
 */
export function switchWindow(input: SwitchWindowInput): SwitchWindowResult {
  requireFinite(input);
  const { requiredPa, settingPa, settingTolerancePa, switchAccuracyPa, deadbandPa, marginPa, gaugeErrorPa } = input;
  const fallingLowestPa = requiredPa + marginPa + switchAccuracyPa + gaugeErrorPa;
  const risingHighestPa = settingPa - settingTolerancePa - switchAccuracyPa - gaugeErrorPa;
  const fallingHighestPa = risingHighestPa - deadbandPa;
  const difference = fallingHighestPa - fallingLowestPa;
  // A window of no width is one: what rounding leaves of zero must not decide.
  const slackPa = Math.abs(difference) <= 1e-12 * (settingPa + requiredPa) ? 0 : difference;
  const feasible = slackPa >= 0;
  return {
    fallingLowestPa,
    risingHighestPa,
    fallingHighestPa,
    feasible,
    recommendedFallingPa: feasible ? (fallingLowestPa + fallingHighestPa) / 2 : null,
    slackPa,
    fallingLowestRssPa: requiredPa + marginPa + Math.hypot(switchAccuracyPa, gaugeErrorPa),
    fallingHighestRssPa: settingPa - deadbandPa - Math.hypot(settingTolerancePa, switchAccuracyPa, gaugeErrorPa),
  };
}
