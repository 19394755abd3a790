import { gammaTails, logPoissonTerm } from './gamma.js';
import { normalUpperQuantile } from './normal.js';

type Tail = { lower: number } | { upper: number };

/** From here on what the expansion below leaves out is less than rounding; the series of the tails only grow longer. */
const LARGE_SHAPE = 1e7;

/** Cornish & Fisher's expansion of the quantile about the normal one (Abramowitz & Stegun 26.4, chi-square of 2a). */
function largeQuantile(a: number, tail: Tail): number {
  const share = 'lower' in tail ? tail.lower : tail.upper;
  const isBelow = 'lower' in tail === share <= 0.5;
  const z = (isBelow ? -1 : 1) * normalUpperQuantile(Math.min(share, 1 - share));
  const z2 = z * z;
  const first = z * Math.sqrt(a) + (z2 - 1) / 3;
  return a + first + (z * (z2 - 7)) / (36 * Math.sqrt(a)) - (z2 * (3 * z2 + 7) - 16) / (810 * a);
}

/**
 * x with P(a, x) = p, or Q(a, x) = q for the upper tail, by Newton's method kept inside a bracket. A shape of zero is
 * the limit: everything at zero.
 */
export function gammaQuantile(a: number, tail: Tail): number {
  if (a >= LARGE_SHAPE) return largeQuantile(a, tail);
  const excess = (x: number): number => {
    const tails = gammaTails(a, x);
    return 'lower' in tail ? tails.lower - tail.lower : tail.upper - tails.upper;
  };
  let low = 0;
  let high = Math.max(1, 2 * a);
  while (excess(high) < 0) {
    low = high;
    high *= 2;
  }
  let x = low > 0 ? (low + high) / 2 : a;
  for (let step = 0; step < 400; step += 1) {
    const value = excess(x);
    if (value > 0) high = x;
    else low = x;
    // density = a/x times the Poisson term
    const density = Math.exp(logPoissonTerm(a, x)) * (a / x);
    const newton = x - value / density;
    const next = newton > low && newton < high ? newton : low > 0 ? Math.sqrt(low * high) : high / 16;
    if (Math.abs(next - x) <= 4e-16 * x || next === 0) break;
    x = next;
  }
  return x;
}
