import { gammaTails } from './gamma.js';

/** Upper tail of the standard normal distribution by the incomplete gamma function, accurate in its far tail too. */
export function normalUpper(z: number): number {
  const half = gammaTails(0.5, (z * z) / 2).upper / 2;
  return z >= 0 ? half : 1 - half;
}

export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/**
 * z with upper tail q, 0 < q <= 1/2: a rational start (Hastings 1955, in Abramowitz & Stegun 26.2.23, within 5e-4), then
 * Newton's method on the logarithm of the tail.
 */
export function normalUpperQuantile(q: number): number {
  const t = Math.sqrt(-2 * Math.log(q));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  const bottom = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  let z = Math.max(0, t - top / bottom);
  for (let step = 0; step < 8; step += 1) {
    const upper = normalUpper(z);
    const change = (Math.log(upper / q) * upper) / normalDensity(z);
    z += change;
    if (Math.abs(change) <= 1e-12 * Math.max(1, z)) break;
  }
  return z;
}
