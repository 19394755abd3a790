import { requireFinite } from '../errors.js';
import { gammaQuantile } from '../numeric/gamma-quantile.js';

export interface CountRateIntervalInput {
  /** x: number of events [1], 0 <= x, whole */
  events: number;
  /** T: exposure, in days or a plain number [1], 0 < T */
  exposure: number;
  /** c: confidence of the interval [1], 0 <= c < 1 */
  confidence: number;
}
export interface CountRateIntervalResult {
  /** r: events per exposure [1] */
  rate: number;
  /** r_lo: lower end of the rate [1] */
  lower: number;
  /** r_hi: upper end of the rate [1] */
  upper: number;
  /** exposure per event; null for no events */
  meanTime: number | null;
  meanTimeLower: number;
  /** null for no events */
  meanTimeUpper: number | null;
}
/**
 * Rate of events with its exact confidence interval.
 *
 * @method lower = χ²(α/2; 2x)/2/T, 0 for no events; upper = χ²(1 − α/2; 2x + 2)/2/T, each tail (1 − confidence)/2.
 * @residual rate - events / exposure
 * @residual lower - 4.795388696132
 * @residual upper - 18.390356042018
 * @assumes Events independent, at a constant rate over the exposure (Poisson).
 * @range With five to ten events report the interval, not the rate alone. Exposure is machine hours or cycles, not calendar days.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example ten-events
 * in  events=10 exposure=1 confidence=0.95
 * out rate=10
 * @source Garwood 1936 (Biometrika 28:437); published limits: 10 events, 4.795 to 18.39.
 */
export function countRateInterval(input: CountRateIntervalInput): CountRateIntervalResult {
  requireFinite(input);
  const { events, exposure, confidence } = input;
  const tail = (1 - confidence) / 2;
  const lower = events === 0 ? 0 : gammaQuantile(events, { lower: tail }) / exposure;
  const upper = gammaQuantile(events + 1, { upper: tail }) / exposure;
  return {
    rate: events / exposure,
    lower,
    upper,
    meanTime: events === 0 ? null : exposure / events,
    meanTimeLower: 1 / upper,
    meanTimeUpper: events === 0 ? null : 1 / lower,
  };
}
