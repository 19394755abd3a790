import { requireFinite, requireThat } from '../errors.js';
import { LARGEST_MEAN, RunLengthBudget, solveRunLength } from './count-cusum.js';

export interface CountCusumDesignInput {
  /** m_0: mean in control [1], 0 < m_0 */
  inControlMean: number;
  /** m_1: mean to be found soon [1], m_0 < m_1 */
  outOfControlMean: number;
  /** L_0: least average run length in control [1], 0 <= L_0 */
  targetArl0: number;
  /** s: k and h are multiples of this [1], 0 < s */
  step: number;
}
export interface CountCusumDesignResult {
  /** k: reference value [1] */
  k: number;
  /** h: decision limit [1] */
  h: number;
  /** average run length in control */
  arl0: number;
  /** average run length at the mean to be found */
  arl1: number;
}

/** A multiple of a step without the tail that binary fractions leave. */
function toMultiple(count: number, step: number): number {
  return Number((count * step).toPrecision(12));
}

const LIMITS = { fields: ['targetArl0', 'step'], needs: 'a smaller target or a coarser step' };

/**
 * Reference value and decision limit of a cumulative sum of counts for a wanted interval between false signals.
 *
 * @method k = (m₁ − m₀)/ln(m₁/m₀) rounded to the nearest multiple of the step (at least one); h = the least multiple with arl0 ≥ target, by doubling and halving on exact run lengths.
 * @residual k - 1
 * @residual h - 3.1
 * @residual arl0 - 278.8529960547711
 * @assumes As `count-cusum-arl`, no head start.
 * @range As `count-cusum-arl`.
 * @throws CalcInputError inconsistent: the second mean is not greater. too-many: the target needs too many states, or a mean above 90000. not-finite: NaN or infinite input.
 * @example two-hundred
 * in  inControlMean=0.58 outOfControlMean=1.6 targetArl0=200 step=0.1
 * out k=1 h=3.1 arl0=278.8529960547711 arl1=6.706536376636425
 * @source Lucas 1985 (Technometrics 27:129) for k; run lengths exact.
 */
export function countCusumDesign(input: CountCusumDesignInput): CountCusumDesignResult {
  requireFinite(input);
  const { inControlMean, outOfControlMean, targetArl0, step } = input;
  requireThat(
    outOfControlMean > inControlMean,
    'inconsistent',
    ['outOfControlMean', 'inControlMean'],
    'a mean out of control above that in control',
  );
  requireThat(outOfControlMean <= LARGEST_MEAN, 'too-many', ['outOfControlMean'], `at most ${LARGEST_MEAN}`);
  const best = (outOfControlMean - inControlMean) / Math.log(outOfControlMean / inControlMean);
  const k = toMultiple(Math.max(1, Math.round(best / step)), step);
  const budget = new RunLengthBudget(LIMITS);
  const runLength = (steps: number, mean: number): number =>
    solveRunLength({ k, h: toMultiple(steps, step), headstart: 0, direction: 'upper' }, mean, budget);
  let enough = 1;
  while (runLength(enough, inControlMean) < targetArl0) enough *= 2;
  let tooFew = Math.floor(enough / 2);
  while (enough - tooFew > 1) {
    const middle = Math.floor((enough + tooFew) / 2);
    if (runLength(middle, inControlMean) < targetArl0) tooFew = middle;
    else enough = middle;
  }
  return {
    k,
    h: toMultiple(enough, step),
    arl0: runLength(enough, inControlMean),
    arl1: runLength(enough, outOfControlMean),
  };
}
