import { isBelow, requireFinite, requireThat } from '../errors.js';

export interface CylinderPressureInput {
  /** F: force asked for [N], 0 <= F */
  forceN: number;
  /** D: bore, the piston's diameter [m], 0 < D */
  boreM: number;
  /** d: rod diameter [m], 0 <= d < D */
  rodM: number;
  /** p_b: gauge pressure on the other side [Pa], 0 <= p_b */
  backPressurePa: number;
  /** eta: share of the force left after friction of seals and guides [1], 0 < eta <= 1 */
  efficiency: number;
}
export interface CylinderPressureResult {
  /** p_e: gauge pressure that gives the force while extending [Pa] */
  extendPressurePa: number;
  /** p_r: gauge pressure that gives the force while retracting [Pa] */
  retractPressurePa: number;
}
/**
 * Pressure that a double-acting cylinder needs for a force, in each direction: the inverse of `cylinder-force`.
 *
 * @formula
 * A_p = pi * D^2 / 4
 * A_a = pi * (D^2 - d^2) / 4
 * p_e = (F / eta + p_b * A_a) / A_p
 * p_r = (F / eta + p_b * A_p) / A_a
 * @assumes Steady state, single rod, both pressures gauge; the weight of what moves is left out.
 * @range As `cylinder-force`.
 * @throws CalcInputError inconsistent: the rod is not smaller than the bore. not-finite: NaN or infinite input.
 * @example one-tonne-class
 * in  forceN=10000 boreM=0.04 rodM=0.025 backPressurePa=5e5 efficiency=0.9
 * out extendPressurePa=9146628.782883074 retractPressurePa=15330365.182167098
 * @source Force = pressure times area (definition of pressure); areas of circle and ring.
 */
export function cylinderPressure(input: CylinderPressureInput): CylinderPressureResult {
  requireFinite(input);
  const { forceN, boreM, rodM, backPressurePa, efficiency } = input;
  requireThat(isBelow(rodM, boreM), 'inconsistent', ['rodM', 'boreM'], 'rod smaller than bore');
  const pistonM2 = (Math.PI * boreM ** 2) / 4;
  const annulusM2 = (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4;
  return {
    extendPressurePa: (forceN / efficiency + backPressurePa * annulusM2) / pistonM2,
    retractPressurePa: (forceN / efficiency + backPressurePa * pistonM2) / annulusM2,
  };
}
