import { requireThat } from '../errors.js';
import { normalUpperQuantile } from '../numeric/normal.js';
import type { ErrorDistribution } from './tolerance-stack.js';

export interface PropagatedTerm {
  nominal: number;
  /** half width; normal: three standard deviations, 0 <= halfWidth */
  halfWidth: number;
  distribution: ErrorDistribution;
}

export interface PropagateTolerancesInput {
  terms: readonly PropagatedTerm[];
  /** the figure made from one value of each term, in their order */
  evaluate: (values: readonly number[]) => number;
  limit: { lower?: number | undefined; upper?: number | undefined };
  /** whole number; the same seed gives the same result to the last digit */
  seed: number;
  /** points of each of the shifted copies */
  points: number;
}

export interface PropagateTolerancesResult {
  nominal: number;
  /** the figure at the worst corner each way, over all corners (or over the sample above 12 terms) */
  lowest: number;
  highest: number;
  mean: number;
  standardDeviation: number;
  probability: number;
  /** standard error of the probability, from the spread of the shifted copies */
  probabilityError: number;
}

const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71] as const;
const COPIES = 16;
const MOST_CORNER_TERMS = 12;

/** A number in [0, 1) from a whole one (mulberry32, public domain): the same on every machine. */
function makeRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Digits of a whole number in a base, mirrored at the point (van der Corput 1935): the coordinates of Halton's sequence. */
function mirrorDigits(index: number, base: number): number {
  let fraction = 1 / base;
  let value = 0;
  for (let rest = index; rest > 0; rest = Math.floor(rest / base)) {
    value += (rest % base) * fraction;
    fraction /= base;
  }
  return value;
}

/** The deviation at a share of the distribution, 0 < share < 1. */
function toDeviation({ halfWidth, distribution }: PropagatedTerm, share: number): number {
  if (distribution === 'uniform') return halfWidth * (2 * share - 1);
  const tail = Math.max(Math.min(share, 1 - share), 1e-16);
  const side = share < 0.5 ? -1 : 1;
  if (distribution === 'triangular') return side * halfWidth * (1 - Math.sqrt(2 * tail));
  return (side * normalUpperQuantile(tail) * halfWidth) / 3;
}

/**
 * Tolerances carried through any figure: worst corners, mean, spread, and the probability to stay within limits with
 * its own error, from a seeded quasi-random sample (Halton 1960, shifted at random after Cranley & Patterson 1976).
 * @throws CalcInputError too-many: above 20 terms. out-of-range: no limit, seed or points not whole. no-result: a value that is not finite.
 */
export function propagateTolerances(input: PropagateTolerancesInput): PropagateTolerancesResult {
  const { terms, evaluate, limit, seed, points } = input;
  requireThat(terms.length <= PRIMES.length, 'too-many', ['terms'], 'at most 20 terms');
  requireThat(limit.lower !== undefined || limit.upper !== undefined, 'out-of-range', ['limit'], 'a limit');
  requireThat(Number.isInteger(seed), 'out-of-range', ['seed'], 'a whole number');
  requireThat(
    Number.isInteger(points) && points >= 1 && points <= 1e6,
    'out-of-range',
    ['points'],
    'a whole number, 1 to 1 000 000',
  );
  let lowest = Infinity;
  let highest = -Infinity;
  const measure = (values: readonly number[]): number => {
    const value = evaluate(values);
    requireThat(Number.isFinite(value), 'no-result', ['evaluate'], 'a figure that is finite over all tolerances');
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
    return value;
  };
  const nominal = measure(terms.map((term) => term.nominal));
  if (terms.length <= MOST_CORNER_TERMS) {
    for (let corner = 0; corner < 2 ** terms.length; corner += 1) {
      measure(terms.map((term, index) => term.nominal + ((corner >> index) & 1 ? term.halfWidth : -term.halfWidth)));
    }
  }
  // The corners are the stated half widths; a normal term's sample may go beyond them, which does not move the corners.
  const corners = { lowest, highest };
  const random = makeRandom(seed);
  let sum = 0;
  let squares = 0;
  const shares: number[] = [];
  for (let copy = 0; copy < COPIES; copy += 1) {
    const shifts = terms.map(random);
    let inside = 0;
    for (let index = 1; index <= points; index += 1) {
      const values = terms.map((term, dimension) => {
        const share = (mirrorDigits(index, PRIMES[dimension] as number) + (shifts[dimension] as number)) % 1;
        return term.nominal + toDeviation(term, share);
      });
      const value = measure(values);
      sum += value - nominal;
      squares += (value - nominal) ** 2;
      const isInside =
        (limit.lower === undefined || value >= limit.lower) && (limit.upper === undefined || value <= limit.upper);
      inside += isInside ? 1 : 0;
    }
    shares.push(inside / points);
  }
  const count = COPIES * points;
  const mean = sum / count;
  const probability = shares.reduce((total, share) => total + share, 0) / COPIES;
  const spread = shares.reduce((total, share) => total + (share - probability) ** 2, 0);
  return {
    nominal,
    ...(terms.length <= MOST_CORNER_TERMS ? corners : { lowest, highest }),
    mean: nominal + mean,
    standardDeviation: Math.sqrt(Math.max(0, squares / count - mean ** 2)),
    probability,
    probabilityError: Math.sqrt(spread / (COPIES * (COPIES - 1))),
  };
}
