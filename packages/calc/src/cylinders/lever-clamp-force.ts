import { requireFinite } from '../errors.js';

export interface LeverClampForceInput {
  /** F: force of the cylinder on the lever [N], 0 <= F */
  cylinderForceN: number;
  /** a: pivot to the cylinder's line of action [m], 0 <= a */
  cylinderArmM: number;
  /** b: pivot to the clamping point [m], 0 < b */
  clampArmM: number;
  /** eta: share of the force left after friction in the pins [1], 0 <= eta <= 1 */
  efficiency: number;
  /** where the pivot is: between cylinder and clamping point, or at the end of the lever */
  pivot: 'between' | 'end';
}
export interface LeverClampForceResult {
  /** F_c: force on the workpiece [N] */
  clampForceN: number;
  /** F_p: force in the pivot [N] */
  pivotForceN: number;
}
/**
 * Clamping force of a lever or strap clamp, and the force that its pivot carries.
 *
 * @formula
 * F_c = F * a / b * eta
 * F_p = equalText(pivot, "between") ? F + F_c : abs(F - F_c)
 * @assumes Cylinder and clamping force parallel; arms measured square to them. For a strap with a heel support take moments about the heel.
 * @range Efficiency is commonly 0.8 to 0.95 (common practice, no source).
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example between
 * in  {"cylinderForceN":10000,"cylinderArmM":0.04,"clampArmM":0.06,"efficiency":0.9,"pivot":"between"}
 * out clampForceN=6000 pivotForceN=16000
 * @example end
 * in  {"cylinderForceN":10000,"cylinderArmM":0.04,"clampArmM":0.06,"efficiency":0.9,"pivot":"end"}
 * out clampForceN=6000 pivotForceN=4000
 * @source Balance of moments and forces on a lever.
 */
export function leverClampForce(input: LeverClampForceInput): LeverClampForceResult {
  requireFinite(input);
  const { cylinderForceN, cylinderArmM, clampArmM, efficiency, pivot } = input;
  const clampForceN = ((cylinderForceN * cylinderArmM) / clampArmM) * efficiency;
  return {
    clampForceN,
    pivotForceN: pivot === 'between' ? cylinderForceN + clampForceN : Math.abs(cylinderForceN - clampForceN),
  };
}
