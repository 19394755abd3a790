import { requireFinite, type CalcNote } from '../errors.js';

export interface TubeWallInput {
  /** p: design pressure [Pa], 0 <= p */
  pressurePa: number;
  /** D: outside diameter [m], 0 <= D */
  outerDiameterM: number;
  /** S: allowable stress [Pa], 0 < S */
  allowableStressPa: number;
  /** E: quality factor [1], 0 < E <= 1 */
  quality: number;
  /** W: weld strength factor [1], 0 < W <= 1 */
  weldFactor: number;
  /** Y: coefficient of the formula [1], 0 <= Y <= 1 */
  coefficient: number;
}
export interface TubeWallResult {
  /** t: least wall for the pressure, without allowances [m] */
  minimumWallM: number;
  notes: CalcNote[];
}
/**
 * Least wall of a straight tube for a pressure.
 *
 * @formula
 * t = p * D / (2 * (S * E * W + p * Y))
 * @assumes Straight tube under internal pressure; add corrosion, thread depth and thinning at bends.
 * @range Below D/6; from there on a note: the formula does not apply. Y 0.4 for ferrous metal below 482 °C.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example twelve-millimetres
 * in  pressurePa=17.5e6 outerDiameterM=0.012 allowableStressPa=115e6 quality=1 weldFactor=1 coefficient=0.4
 * out minimumWallM=8.60655737704918e-4
 * @source ASME B31.3, 304.1.2 (from memory).
 */
export function tubeWall(input: TubeWallInput): TubeWallResult {
  requireFinite(input);
  const { pressurePa, outerDiameterM, allowableStressPa, quality, weldFactor, coefficient } = input;
  const bearing = allowableStressPa * quality * weldFactor + pressurePa * coefficient;
  const minimumWallM = (pressurePa * outerDiameterM) / (2 * bearing);
  const isThick = pressurePa > 0 && minimumWallM >= (outerDiameterM / 6) * (1 - 1e-12);
  return {
    minimumWallM,
    notes: isThick ? [{ code: 'wall-beyond-formula', parameters: { minimumWallM, limitM: outerDiameterM / 6 } }] : [],
  };
}
