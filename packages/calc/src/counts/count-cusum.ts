import { requireThat } from '../errors.js';
import { meanAbsorptionTime } from '../numeric/absorption-time.js';
import { logPoissonTerm } from '../numeric/gamma.js';

export interface CountCusum {
  k: number;
  h: number;
  headstart: number;
  direction: 'upper' | 'lower';
}

const LEAST_STEP = 0.001;
const MOST_STATES = 4000;
/** Additions in all the run lengths of one answer: seconds. */
const MOST_WORK = 3e9;
/** Terms of one Poisson distribution. */
const MOST_TERMS = 100_000;
/** Its distribution ends within so many terms. */
export const LARGEST_MEAN = 90_000;

/** What one answer may cost, however many run lengths it asks for. */
export class RunLengthBudget {
  private left = MOST_WORK;

  /** @param limits inputs that the size of the chain comes from, and what they then need */
  constructor(private readonly limits = { fields: ['h', 'k'], needs: 'a coarser step or a smaller h' }) {}

  /** @throws CalcInputError too-many */
  spend(chain: { states: number; reach: number; counts: number }): void {
    const { states, reach, counts } = chain;
    const { fields, needs } = this.limits;
    this.left -= (states * states * reach) / 2 + states * counts;
    requireThat(states <= MOST_STATES && counts <= MOST_TERMS && this.left >= 0, 'too-many', fields, needs);
  }
}

/** Greatest common divisor of decimals: what is left below a billionth is rounding. */
function commonStep(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y > 1e-9 * Math.max(1, a)) {
    const rest = x - y * Math.floor(x / y + 1e-9);
    [x, y] = [y, Math.abs(rest) < 1e-9 * Math.max(1, a) ? 0 : rest];
  }
  return x;
}

/** Steps per unit, and k, h, head start in steps. Counts are whole, so one unit is a whole number of steps too. */
function toLattice({ k, h, headstart }: CountCusum): { perUnit: number; k: number; h: number; start: number } {
  const step = commonStep(commonStep(commonStep(1, k), h), headstart);
  requireThat(
    step >= LEAST_STEP * (1 - 1e-9),
    'out-of-range',
    ['k', 'h', 'headstart'],
    'a common step of at least 0.001',
  );
  const perUnit = Math.round(1 / step);
  return { perUnit, k: Math.round(k * perUnit), h: Math.round(h * perUnit), start: Math.round(headstart * perUnit) };
}

/** Poisson probabilities from 0 until what is left does not matter. */
function poisson(mean: number, atLeast: number): { terms: number[]; above: (count: number) => number } {
  const terms: number[] = [];
  const end = Math.max(atLeast, mean + 12 * Math.sqrt(mean) + 40);
  for (let x = 0; x <= end; x += 1) {
    terms.push(mean === 0 ? Number(x === 0) : x === 0 ? Math.exp(-mean) : Math.exp(logPoissonTerm(x, mean)));
  }
  const tails = new Float64Array(terms.length + 1);
  for (let x = terms.length - 1; x >= 0; x -= 1) tails[x] = (tails[x + 1] as number) + (terms[x] as number);
  return { terms, above: (count) => tails[Math.max(0, count)] as number };
}

/** Average run length from the head start, of a chart that can signal. Exact: a Markov chain on the lattice of S. */
export function solveRunLength(chart: CountCusum, mean: number, budget: RunLengthBudget): number {
  const { perUnit, k, h, start } = toLattice(chart);
  const isUpper = chart.direction === 'upper';
  const counts = (h + k) / perUnit + 2;
  budget.spend({ states: h, reach: Math.min(k, h), counts });
  const { terms, above } = poisson(mean, counts);
  const rates = new Float64Array(h * h);
  const exits = new Float64Array(h);
  // The lower chart is mirrored, so that in both nothing reaches further left than k.
  const toIndex = (state: number): number => (isUpper ? state : h - 1 - state);
  for (let state = 0; state < h; state += 1) {
    const row = toIndex(state) * h;
    for (const [x, probability] of terms.entries()) {
      const next = isUpper ? state + x * perUnit - k : state + k - x * perUnit;
      if (next >= h) {
        if (isUpper) {
          exits[toIndex(state)] = above(x);
          break;
        }
        exits[toIndex(state)] = (exits[toIndex(state)] as number) + probability;
        continue;
      }
      const at = row + toIndex(Math.max(0, next));
      if (!isUpper && next <= 0) {
        rates[at] = (rates[at] as number) + above(x);
        break;
      }
      rates[at] = (rates[at] as number) + probability;
    }
  }
  return meanAbsorptionTime(rates, exits, toIndex(start), k);
}

/** Average run length; null when it never signals: no counts to rise by, or no reference value to rise by. */
export function countCusumRunLength(chart: CountCusum, mean: number, budget: RunLengthBudget): number | null {
  const canSignal = chart.direction === 'upper' ? mean > 0 : chart.k > 0;
  if (canSignal) return solveRunLength(chart, mean, budget);
  toLattice(chart);
  return null;
}
