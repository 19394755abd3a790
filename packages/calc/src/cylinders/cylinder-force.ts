import { isBelow, requireFinite, requireThat } from '../errors.js';

export interface CylinderForceInput {
  /** D: bore, the piston's diameter [m], 0 < D */
  boreM: number;
  /** d: rod diameter [m], 0 <= d < D */
  rodM: number;
  /** p: gauge pressure on the driven side [Pa], 0 <= p */
  pressurePa: number;
  /** p_b: gauge pressure on the other side [Pa], 0 <= p_b */
  backPressurePa: number;
  /** eta: share of the force left after friction of seals and guides [1], 0 <= eta <= 1 */
  efficiency: number;
}
export interface CylinderForceResult {
  /** A_p: piston area [m2] */
  pistonAreaM2: number;
  /** A_a: annulus area, on the rod's side [m2] */
  annulusAreaM2: number;
  /** phi: piston area over annulus area [1] */
  areaRatio: number;
  /** F_e: force while extending [N] */
  extendForceN: number;
  /** F_r: force while retracting [N] */
  retractForceN: number;
}
/**
 * Force of a double-acting cylinder in each direction at steady pressure.
 *
 * @formula
 * A_p = pi * D^2 / 4
 * A_a = pi * (D^2 - d^2) / 4
 * phi = A_p / A_a
 * F_e = eta * (p * A_p - p_b * A_a)
 * F_r = eta * (p * A_a - p_b * A_p)
 * @assumes Steady state, single rod, both pressures gauge; the weight of what moves is left out.
 * @range Seal and guide friction commonly takes 2 to 10 % (common practice, no source). A negative force is an answer: the back pressure wins.
 * @throws CalcInputError inconsistent: the rod is not smaller than the bore. not-finite: NaN or infinite input.
 * @example with-back-pressure
 * in  boreM=0.04 rodM=0.025 pressurePa=16e6 backPressurePa=1e6 efficiency=0.9
 * out extendForceN=17406.386796295948 retractForceN=9896.016858807849
 * @source Force = pressure times area (definition of pressure); areas of circle and ring.
 */
export function cylinderForce(input: CylinderForceInput): CylinderForceResult {
  requireFinite(input);
  const { boreM, rodM, pressurePa, backPressurePa, efficiency } = input;
  requireThat(isBelow(rodM, boreM), 'inconsistent', ['rodM', 'boreM'], 'rod smaller than bore');
  const pistonAreaM2 = (Math.PI * boreM ** 2) / 4;
  const annulusAreaM2 = (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4;
  return {
    pistonAreaM2,
    annulusAreaM2,
    areaRatio: pistonAreaM2 / annulusAreaM2,
    extendForceN: efficiency * (pressurePa * pistonAreaM2 - backPressurePa * annulusAreaM2),
    retractForceN: efficiency * (pressurePa * annulusAreaM2 - backPressurePa * pistonAreaM2),
  };
}
