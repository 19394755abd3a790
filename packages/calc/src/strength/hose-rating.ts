import { requireFinite, type CalcNote } from '../errors.js';

export interface HoseRatingInput {
  /** p_b: burst pressure [Pa], 0 <= p_b */
  burstPressurePa: number;
  /** S: factor between burst and working pressure [1], 0 < S */
  safetyFactor: number;
}
export interface HoseRatingResult {
  /** p_r: working pressure of the hose [Pa] */
  ratedPressurePa: number;
  notes: CalcNote[];
}
/**
 * Working pressure of a hose from its burst pressure.
 *
 * @formula
 * p_r = p_b / S
 * @assumes Hose as new; an assembly is rated by the least of hose and fittings, and pressure peaks stay below the rating.
 * @range Factor 4 for hydraulic hose; a smaller one gets a note.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example four-to-one
 * in  burstPressurePa=112e6 safetyFactor=4
 * out ratedPressurePa=28e6
 * @source Four to one: public pages that cite SAE J343 and SAE J517 (standards not opened).
 */
export function hoseRating(input: HoseRatingInput): HoseRatingResult {
  requireFinite(input);
  const { burstPressurePa, safetyFactor } = input;
  const notes: CalcNote[] =
    safetyFactor < 4 ? [{ code: 'low-safety-factor', parameters: { safetyFactor, usual: 4 } }] : [];
  return { ratedPressurePa: burstPressurePa / safetyFactor, notes };
}
