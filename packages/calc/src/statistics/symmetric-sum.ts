/**
 * Distribution of a sum of independent errors that are symmetric about zero: uniform (half width a), triangular (the sum
 * of two uniforms of half that width) and normal (standard deviation σ).
 */
export interface SymmetricSum {
  /** half widths of the uniform parts, each > 0 */
  uniform: readonly number[];
  /** standard deviation of all normal parts together, >= 0 */
  sigma: number;
}

const LARGEST_EXACT_COUNT = 10;
const ACCEPTED_ROUNDING = 1e-9;
const LARGEST_SERIES = 400_000;

/**
 * P(sum ≤ x) of uniforms by inclusion and exclusion over the corners (Irwin 1927, Hall 1927, with unequal widths):
 * F = 1/(n!·Π 2aᵢ) · Σ over sign vectors of Π sᵢ · (x + Σ sᵢaᵢ)₊ⁿ. Null when cancellation would cost too many digits.
 */
export function uniformSumProbability(x: number, halfWidths: readonly number[]): number | null {
  const n = halfWidths.length;
  let reach = 0;
  let scale = 1;
  for (let i = 0; i < n; i += 1) {
    const width = halfWidths[i] as number;
    reach += width;
    scale *= 2 * width * (i + 1);
  }
  if (x >= reach) return 1;
  if (x < -reach) return 0;
  if (n > LARGEST_EXACT_COUNT) return null;
  // By symmetry the shorter tail is computed, where the powers are smaller.
  const from = x > 0 ? -x : x;
  const largest = (from + reach) ** n / scale;
  if (largest * 2 ** n * 2.3e-16 > ACCEPTED_ROUNDING) return null;
  let sum = 0;
  for (let corner = 0; corner < 1 << n; corner += 1) {
    let edge = from;
    let sign = 1;
    for (let i = 0; i < n; i += 1) {
      if ((corner >> i) & 1) {
        edge -= halfWidths[i] as number;
        sign = -sign;
      } else {
        edge += halfWidths[i] as number;
      }
    }
    if (edge > 0) sum += sign * edge ** n;
  }
  const tail = Math.min(1, Math.max(0, sum / scale));
  return x > 0 ? 1 - tail : tail;
}

/** The characteristic function, real because everything is symmetric. */
function characteristic(t: number, { uniform, sigma }: SymmetricSum): number {
  let product = Math.exp((-sigma * sigma * t * t) / 2);
  for (const width of uniform) {
    // never zero: widths and t are above it
    const angle = width * t;
    product *= Math.sin(angle) / angle;
  }
  return product;
}

/** A bound on |characteristic| from t on, to know when to stop. */
function envelope(t: number, { uniform, sigma }: SymmetricSum): number {
  return uniform.reduce((bound, width) => bound * Math.min(1, 1 / (width * t)), Math.exp((-sigma * sigma * t * t) / 2));
}

/**
 * P(sum ≤ x) as a Fourier series on a period that holds the whole support (normals cut at 9 σ):
 * F(x) = 1/2 + x/(2L) + Σ φ(kπ/L)·sin(kπx/L)/(kπ).
 */
function seriesProbability(x: number, sum: SymmetricSum): number {
  const reach = sum.uniform.reduce((total, width) => total + width, 9 * sum.sigma);
  if (x >= reach) return 1;
  if (x <= -reach) return 0;
  const period = reach * 1.05;
  let total = 0.5 + x / (2 * period);
  for (let k = 1; k <= LARGEST_SERIES; k += 1) {
    const t = (k * Math.PI) / period;
    total += (characteristic(t, sum) * Math.sin(t * x)) / (k * Math.PI);
    if (k % 64 === 0 && envelope(t, sum) < 1e-9) break;
  }
  return Math.min(1, Math.max(0, total));
}

/** P(sum ≤ x); a sum without any width is certain to be zero. Within 1e-5, exact for up to ten uniforms. */
export function symmetricSumProbability(x: number, sum: SymmetricSum): number {
  let unit = sum.sigma;
  for (const width of sum.uniform) unit = Math.max(unit, width);
  if (unit === 0) return x >= 0 ? 1 : 0;
  // In units of the largest part, so that powers neither vanish nor overflow.
  const scaled = { uniform: sum.uniform.map((width) => width / unit), sigma: sum.sigma / unit };
  const exact = sum.sigma === 0 ? uniformSumProbability(x / unit, scaled.uniform) : null;
  return exact ?? seriesProbability(x / unit, scaled);
}
