/** Γ and its incomplete forms in double precision, without loss for large arguments. */

/** log Γ(x) by Lanczos's approximation (g = 7, n = 9; Godfrey's coefficients), about 1e-15 for x > 0. */
const LANCZOS_FIRST = 0.99999999999980993;
const LANCZOS: readonly number[] = [
  676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059, 12.507343278686905,
  -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const y = x - 1;
  const sum = LANCZOS.reduce((total, coefficient, index) => total + coefficient / (y + index + 1), LANCZOS_FIRST);
  const t = y + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** u − log(1 + u), without cancellation near zero. */
function deviance(u: number): number {
  if (Math.abs(u) > 0.1) return u - Math.log1p(u);
  let term = u * u;
  let total = term / 2;
  for (let n = 3; n < 40; n += 1) {
    term *= -u;
    total += term / n;
  }
  return total;
}

/** log Γ(a + 1) − (a·log a − a + ½·log(2πa)), the remainder of Stirling's series, for a ≥ 10. */
function stirlingRest(a: number): number {
  const a2 = a * a;
  return (1 / 12 - (1 / 360 - (1 / 1260 - 1 / 1680 / a2) / a2) / a2) / a;
}

/** log of x^a·e^(−x)/Γ(a + 1): the Poisson probability of a at mean x. Loader's form keeps its digits for large a. */
export function logPoissonTerm(a: number, x: number): number {
  if (a < 10) return a * Math.log(x) - x - logGamma(a + 1);
  return -a * deviance((x - a) / a) - 0.5 * Math.log(2 * Math.PI * a) - stirlingRest(a);
}

/** Both tails of the gamma distribution with shape a at x: lower P(a, x) and upper Q(a, x). */
export function gammaTails(a: number, x: number): { lower: number; upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  const term = Math.exp(logPoissonTerm(a, x));
  // So far out that nothing is left of the smaller tail: no number of steps changes that.
  if (term === 0) return x < a + 1 ? { lower: 0, upper: 1 } : { lower: 1, upper: 0 };
  const mostSteps = 1000 + 20 * Math.sqrt(Math.max(a, x));
  if (x < a + 1) {
    // series P = x^a e^-x / Γ(a+1) · (1 + x/(a+1) + x²/((a+1)(a+2)) + …)
    let part = 1;
    let sum = 1;
    for (let n = 1; n < mostSteps && part > sum * 1e-17; n += 1) {
      part *= x / (a + n);
      sum += part;
    }
    const lower = Math.min(1, term * sum);
    return { lower, upper: 1 - lower };
  }
  // Lentz's method on the continued fraction of Q; for x > a + 1 neither part comes near zero
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < mostSteps; n += 1) {
    const an = -n * (n - a);
    b += 2;
    d = an * d + b;
    c = b + an / c;
    d = 1 / d;
    const change = d * c;
    h *= change;
    if (Math.abs(change - 1) < 1e-16) break;
  }
  const upper = Math.min(1, term * a * h);
  return { lower: 1 - upper, upper };
}
