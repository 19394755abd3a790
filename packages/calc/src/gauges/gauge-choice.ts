import { isAtMost, requireFinite, requireThat } from '../errors.js';

export interface GaugeChoiceInput {
  /** p_w: working pressure [Pa], 0 <= p_w */
  workingPa: number;
  /** p_h: highest pressure that the gauge must survive [Pa], 0 <= p_h */
  highestPa: number;
  /** spans to choose from [Pa] */
  spansPa: readonly number[];
  /** lo: least share of the span at the working pressure [1], 0 <= lo <= hi */
  low: number;
  /** hi: greatest share of the span at the working pressure [1], lo <= hi <= 1 */
  high: number;
}
export interface GaugeChoiceResult {
  /** spans that fit, in the order given [Pa] */
  acceptablePa: number[];
  /** s: the smallest span that fits [Pa]; null when none does */
  recommendedPa: number | null;
}
/**
 * Which gauge spans read the working pressure in the middle of the dial and survive the highest pressure.
 *
 * @method A span fits when low·span ≤ working ≤ high·span and highest ≤ span.
 * @residual recommendedPa - 25e6
 * @assumes Steady pressure; for pulsating pressure choose a lower upper share.
 * @range Middle half of the span: common practice, tied to the middle half of ASME B40.100; 75 % for steady pressure from EN 837-2:1997 (from memory).
 * @throws CalcInputError inconsistent: low above high. not-finite: NaN or infinite input.
 * @example middle-half
 * in  {"workingPa":17.5e6,"highestPa":17.5e6,"spansPa":[16e6,25e6,40e6],"low":0.25,"high":0.75}
 * out recommendedPa=25e6
 * @source Public gauge pages that tie the range to ASME B40.100; EN 837-2:1997 (from memory).
 */
export function gaugeChoice(input: GaugeChoiceInput): GaugeChoiceResult {
  requireFinite(input);
  const { workingPa, highestPa, spansPa, low, high } = input;
  requireThat(isAtMost(low, high), 'inconsistent', ['low', 'high'], 'low not above high');
  const acceptablePa = spansPa.filter(
    (span) => isAtMost(low * span, workingPa) && isAtMost(workingPa, high * span) && isAtMost(highestPa, span),
  );
  return { acceptablePa, recommendedPa: acceptablePa.length > 0 ? Math.min(...acceptablePa) : null };
}
