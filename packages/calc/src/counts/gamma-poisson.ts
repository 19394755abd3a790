import { requireFinite, requireThat, type CalcNote } from '../errors.js';
import { gammaQuantile } from '../numeric/gamma-quantile.js';

export interface GammaPoissonInput {
  /** a: shape of the prior [1], 0 <= a */
  priorShape: number;
  /** b: exposure that the prior is worth, in days or plain [1], 0 <= b */
  priorExposure: number;
  /** x: number of events [1], 0 <= x, whole */
  events: number;
  /** T: exposure, in days or plain [1], 0 <= T */
  exposure: number;
  /** h: exposure ahead [1], 0 <= h */
  horizon?: number | undefined;
  /** c: probability inside the interval [1], 0 <= c < 1 */
  confidence: number;
}
export interface GammaPoissonResult {
  /** m: mean of the rate [1] */
  mean: number;
  lower: number;
  upper: number;
  /** P_0: probability of no event within the horizon [1] */
  probabilityZero?: number;
  notes: CalcNote[];
}
/**
 * Rate of events from a prior and counts, and the probability of none ahead.
 *
 * @formula
 * m = (a + x) / (b + T)
 * P_0 = ((b + T) / (b + T + h))^(a + x)
 * @assumes Rate ~ Gamma(a, b); events independent given the rate. Interval with equal tails of Gamma(a + x, b + T).
 * @range The prior must be stated beside the result.
 * @throws CalcInputError out-of-range: no information (shape and events zero, or no exposure). not-finite: NaN or infinite input.
 * @example month
 * in  priorShape=2 priorExposure=30 events=9 exposure=120 horizon=30 confidence=0.9
 * out mean=0.07333333333333333 probabilityZero=0.13458798574153807
 * @source Conjugate prior of the Poisson distribution (any text on Bayesian statistics).
 */
export function gammaPoisson(input: GammaPoissonInput): GammaPoissonResult {
  requireFinite(input);
  const { priorShape, priorExposure, events, exposure, horizon, confidence } = input;
  const shape = priorShape + events;
  const total = priorExposure + exposure;
  requireThat(shape > 0, 'out-of-range', ['priorShape', 'events'], 'a prior shape or events above zero');
  requireThat(total > 0, 'out-of-range', ['priorExposure', 'exposure'], 'an exposure above zero');
  const tail = (1 - confidence) / 2;
  const result = {
    mean: shape / total,
    lower: gammaQuantile(shape, { lower: tail }) / total,
    upper: gammaQuantile(shape, { upper: tail }) / total,
    notes: [{ code: 'state-the-prior', parameters: { priorShape, priorExposure } }],
  };
  if (horizon === undefined) return result;
  return { ...result, probabilityZero: Math.exp(-shape * Math.log1p(horizon / total)) };
}
