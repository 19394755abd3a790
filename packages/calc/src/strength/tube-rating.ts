import { isBelow, requireFinite, requireThat, type CalcNote } from '../errors.js';

export interface TubeRatingInput {
  /** D: outside diameter [m], 0 < D */
  outerDiameterM: number;
  /** t_n: nominal wall [m], 0 < t_n < D/2 */
  wallM: number;
  /** S: allowable stress of the tube's material [Pa], 0 < S */
  allowableStressPa: number;
  /** formula: thin wall, or thick wall with the largest hoop stress at the bore */
  method: 'thin' | 'thick';
  /** tol: share of the wall that may be missing [1], 0 <= tol < 1 */
  wallTolerance: number;
  /** p: gauge pressure whose stress is wanted [Pa], 0 <= p */
  pressurePa?: number | undefined;
}
export interface TubeRatingResult {
  /** p_r: pressure at which the hoop stress reaches the allowable one [Pa] */
  ratedPressurePa: number;
  /** sigma: hoop stress at the pressure [Pa]; left out without it */
  hoopStressPa?: number;
  /** r: pressure over rated pressure [1]; left out without it */
  ratio?: number;
  notes: CalcNote[];
}
/**
 * Pressure that a straight tube bears, by Barlow's formula on the outside diameter or by Lamé's for a thick wall.
 *
 * @formula
 * t = t_n * (1 - tol)
 * d = D - 2 * t
 * p_r = equalText(method, "thin") ? 2 * S * t / D : S * (D^2 - d^2) / (D^2 + d^2)
 * r = p / p_r
 * sigma = S * r
 * @assumes Straight, round, seamless tube; static pressure; no allowance for bends, threads or corrosion.
 * @range The thin formula is meant for t/D up to 0.1; above it a note says so (it stays on the safe side of Lamé's mean, not of its peak).
 * @throws CalcInputError inconsistent: the wall leaves no bore. not-finite: NaN or infinite input.
 * @example thin
 * in  {"outerDiameterM":0.012,"wallM":0.002,"allowableStressPa":100e6,"method":"thin","wallTolerance":0,"pressurePa":17.5e6}
 * out ratedPressurePa=33333333.333333336 hoopStressPa=52.5e6 ratio=0.525
 * @example thick
 * in  {"outerDiameterM":0.012,"wallM":0.002,"allowableStressPa":100e6,"method":"thick","wallTolerance":0,"pressurePa":17.5e6}
 * out ratedPressurePa=38461538.461538464 hoopStressPa=45.5e6 ratio=0.455
 * @source Barlow: force balance of a half ring; Lamé: elastic thick cylinder (any text on strength of materials). Both derived anew for the check values.
 */
export function tubeRating(input: TubeRatingInput): TubeRatingResult {
  requireFinite(input);
  const { outerDiameterM, wallM, allowableStressPa, method, wallTolerance, pressurePa } = input;
  requireThat(
    isBelow(2 * wallM, outerDiameterM),
    'inconsistent',
    ['wallM', 'outerDiameterM'],
    'a wall that leaves a bore',
  );
  const wall = wallM * (1 - wallTolerance);
  const bore = outerDiameterM - 2 * wall;
  const pressurePerStress =
    method === 'thin'
      ? (2 * wall) / outerDiameterM
      : (4 * wall * (outerDiameterM - wall)) / (outerDiameterM ** 2 + bore ** 2);
  const ratedPressurePa = allowableStressPa * pressurePerStress;
  const notes: CalcNote[] = [];
  const wallRatio = wall / outerDiameterM;
  if (method === 'thin' && wallRatio > 0.1) notes.push({ code: 'thick-wall', parameters: { wallRatio, limit: 0.1 } });
  if (pressurePa === undefined) return { ratedPressurePa, notes };
  return {
    ratedPressurePa,
    hoopStressPa: pressurePa / pressurePerStress,
    ratio: pressurePa / ratedPressurePa,
    notes,
  };
}
