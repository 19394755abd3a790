import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface SwingClampForceInput {
  /** p: gauge pressure that pulls the piston down [Pa], 0 <= p */
  pressurePa: number;
  /** D: bore, the piston's diameter [m], 0 < D */
  boreM: number;
  /** d: rod diameter [m], 0 <= d < D */
  rodM: number;
  /** L: piston axis to the clamping point [m], 0 <= L */
  armLengthM: number;
  /** b: distance between the two guide bearings [m], 0 < b */
  guideSpacingM: number;
  /** mu: friction in the guide bearings [1], 0 <= mu */
  guideFriction: number;
}
export interface SwingClampForceResult {
  /** F: force on the workpiece [N] */
  clampForceN: number;
  /** F_b: side force in each guide bearing [N] */
  bearingForceN: number;
  /** M: bending moment of the rod [N.m] */
  bendingMomentNm: number;
  notes: CalcNote[];
}
/**
 * Clamping force of a swing clamp with its arm, from the friction of two guide bearings.
 *
 * @formula
 * F = p * pi * (D^2 - d^2) / 4 / (1 + 2 * mu * L / b)
 * F_b = F * L / b
 * M = F * L
 * @assumes Arm and rod rigid; two bearings carry the moment of the arm; force on the pull (annulus) side.
 * @range An estimate from mechanics, not a standard: the component's own chart of force, arm and pressure wins.
 * @throws CalcInputError inconsistent: the rod is not smaller than the bore. not-finite: NaN or infinite input.
 * @example arm-60
 * in  pressurePa=17.5e6 boreM=0.04 rodM=0.025 armLengthM=0.06 guideSpacingM=0.05 guideFriction=0.12
 * out clampForceN=10404.391430876523
 * @source Derived here from the balance of forces and moments; no published source.
 */
export function swingClampForce(input: SwingClampForceInput): SwingClampForceResult {
  requireFinite(input);
  const { pressurePa, boreM, rodM, armLengthM, guideSpacingM, guideFriction } = input;
  requireThat(isBelow(rodM, boreM), 'inconsistent', ['rodM', 'boreM'], 'rod smaller than bore');
  const annulusM2 = (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4;
  const clampForceN = (pressurePa * annulusM2) / (1 + (2 * guideFriction * armLengthM) / guideSpacingM);
  return {
    clampForceN,
    bearingForceN: (clampForceN * armLengthM) / guideSpacingM,
    bendingMomentNm: clampForceN * armLengthM,
    notes: [{ code: 'component-chart-wins' }],
  };
}
