import { requireFinite, requireThat } from '../errors.js';
import { countCusumRunLength, LARGEST_MEAN, RunLengthBudget } from './count-cusum.js';

export interface CountCusumArlInput {
  /** k: reference value [1], 0 <= k */
  k: number;
  /** h: decision limit, a signal when S >= h [1], 0 < h */
  h: number;
  /** m: true mean of the counts [1], 0 <= m */
  mean: number;
  /** S_0: where the sum starts [1], 0 <= S_0 < h */
  headstart: number;
  direction: 'upper' | 'lower';
  /** m_0: mean in control [1], 0 <= m_0 */
  inControlMean?: number | undefined;
  /** m_1: mean out of control [1], 0 <= m_1 */
  outOfControlMean?: number | undefined;
}
export interface CountCusumArlResult {
  /** average run length at the true mean; null: never signals */
  arl: number | null;
  arl0?: number | null;
  arl1?: number | null;
}
/**
 * Average run length of a cumulative sum of counts.
 *
 * @method S = max(0, S + X − k) (lower: S + k − X), X Poisson, signal when S ≥ h. Exact Markov chain on the lattice of the common step of k, h, head start and one, solved by state reduction without subtraction.
 * @residual arl - 5.365628074279732
 * @assumes Counts independent, Poisson, equal exposure each.
 * @range A common step below 0.001 is refused. Test for over-dispersion before Poisson limits are used.
 * @throws CalcInputError out-of-range: no common step. inconsistent: head start not below h. too-many: too many states, or a mean above 90000. not-finite: NaN or infinite input.
 * @example out-of-control
 * in  {"k":2,"h":5,"mean":3,"headstart":0,"direction":"upper"}
 * out arl=5.365628074279732
 * @source Lucas 1985 (Technometrics 27:129): k 0.25, h 10, mean 0.25 gives 438, with head start 5 gives 333.
 */
export function countCusumArl(input: CountCusumArlInput): CountCusumArlResult {
  requireFinite(input);
  const { k, h, mean, headstart, direction, inControlMean, outOfControlMean } = input;
  requireThat(headstart < h, 'inconsistent', ['headstart', 'h'], 'a head start below h');
  for (const [field, value] of Object.entries({ mean, inControlMean, outOfControlMean })) {
    requireThat((value ?? 0) <= LARGEST_MEAN, 'too-many', [field], `at most ${LARGEST_MEAN}`);
  }
  const chart = { k, h, headstart, direction };
  const budget = new RunLengthBudget();
  const result: CountCusumArlResult = { arl: countCusumRunLength(chart, mean, budget) };
  if (inControlMean !== undefined) result.arl0 = countCusumRunLength(chart, inControlMean, budget);
  if (outOfControlMean !== undefined) result.arl1 = countCusumRunLength(chart, outOfControlMean, budget);
  return result;
}
