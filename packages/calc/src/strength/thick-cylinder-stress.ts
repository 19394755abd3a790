import { isBelow, requireFinite, requireThat } from '../errors.js';

export interface ThickCylinderStressInput {
  /** d: inner diameter [m], 0 <= d < D */
  innerDiameterM: number;
  /** D: outside diameter [m], d < D */
  outerDiameterM: number;
  /** p: gauge pressure inside [Pa], 0 <= p */
  pressurePa: number;
  /** p_e: gauge pressure outside [Pa], 0 <= p_e */
  externalPressurePa: number;
}
export interface ThickCylinderStressResult {
  /** s_i: hoop stress at the bore [Pa] */
  hoopInnerPa: number;
  /** s_o: hoop stress at the outside [Pa] */
  hoopOuterPa: number;
  /** s_a: axial stress with closed ends [Pa] */
  axialPa: number;
}
/**
 * Stresses of a thick-walled cylinder under internal and external pressure.
 *
 * @formula
 * s_i = (p * (d^2 + D^2) - 2 * p_e * D^2) / (D^2 - d^2)
 * s_o = (2 * p * d^2 - p_e * (D^2 + d^2)) / (D^2 - d^2)
 * s_a = (p * d^2 - p_e * D^2) / (D^2 - d^2)
 * @assumes Elastic, long, round; tension positive; away from the ends.
 * @range Static pressures; fatigue needs more.
 * @throws CalcInputError inconsistent: the bore is not smaller than the outside. not-finite: NaN or infinite input.
 * @example both-pressures
 * in  innerDiameterM=0.06 outerDiameterM=0.1 pressurePa=20e6 externalPressurePa=5e6
 * out hoopInnerPa=26875000
 * @source Lamé 1852; checked against a boundary-value solution.
 */
export function thickCylinderStress(input: ThickCylinderStressInput): ThickCylinderStressResult {
  requireFinite(input);
  const { innerDiameterM, outerDiameterM, pressurePa, externalPressurePa } = input;
  requireThat(
    isBelow(innerDiameterM, outerDiameterM),
    'inconsistent',
    ['innerDiameterM', 'outerDiameterM'],
    'inner diameter below the outer',
  );
  const inner = innerDiameterM ** 2;
  const outer = outerDiameterM ** 2;
  const ring = (outerDiameterM - innerDiameterM) * (outerDiameterM + innerDiameterM);
  return {
    hoopInnerPa: (pressurePa * (inner + outer) - 2 * externalPressurePa * outer) / ring,
    hoopOuterPa: (2 * pressurePa * inner - externalPressurePa * (outer + inner)) / ring,
    axialPa: (pressurePa * inner - externalPressurePa * outer) / ring,
  };
}
