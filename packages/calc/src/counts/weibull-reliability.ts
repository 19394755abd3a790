import { requireFinite } from '../errors.js';

export interface WeibullReliabilityInput {
  /** beta: shape [1], 0 < beta */
  shape: number;
  /** eta: scale, in days or plain [1], 0 < eta */
  scale: number;
  /** t: age [1], 0 <= t */
  age: number;
  /** D: interval ahead [1], 0 <= D */
  interval?: number | undefined;
}
export interface WeibullReliabilityResult {
  /** hazard: failures per time among those alive [1]; null: not finite at age zero with a shape below one */
  hazard: number | null;
  /** R: share that reaches the age [1] */
  reliability: number;
  /** R_c: share of those alive that also gets through the interval [1] */
  conditionalReliability?: number;
  /** B_10: life that 10 % fail within [1] */
  b10: number;
}
/**
 * Hazard and reliability at an age, from a Weibull distribution.
 *
 * @formula
 * hazard = beta / eta * (t / eta)^(beta - 1)
 * R = exp(-(t / eta)^beta)
 * R_c = exp((t / eta)^beta - ((t + D) / eta)^beta)
 * B_10 = eta * (-log(0.9))^(1 / beta)
 * @assumes The distribution is known.
 * @range Shape below one: early failures, replacing does not help; above one: wear.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example bearings
 * in  shape=2.102 scale=81.88 age=50 interval=20
 * out hazard=0.014907260799401812 conditionalReliability=0.6944187628190726
 * @source Weibull 1951; data of the example: Lieblein & Zelen 1956.
 */
export function weibullReliability(input: WeibullReliabilityInput): WeibullReliabilityResult {
  requireFinite(input);
  const { shape, scale, age, interval } = input;
  const used = (age / scale) ** shape;
  const hasHazard = age > 0 || shape >= 1;
  const result = {
    hazard: hasHazard ? (shape / scale) * (age / scale) ** (shape - 1) : null,
    reliability: Math.exp(-used),
    b10: scale * (-Math.log(0.9)) ** (1 / shape),
  };
  if (interval === undefined) return result;
  return { ...result, conditionalReliability: Math.exp(used - ((age + interval) / scale) ** shape) };
}
