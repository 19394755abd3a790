import { gammaTails } from './gamma.js';

/** Upper tail of the standard normal distribution by the incomplete gamma function, accurate in its far tail too. */
export function normalUpper(z: number): number {
  const half = gammaTails(0.5, (z * z) / 2).upper / 2;
  return z >= 0 ? half : 1 - half;
}

export function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** z with upper tail q, 0 < q <= 1/2, by Newton's method on the logarithm of the tail. */
export function normalUpperQuantile(q: number): number {
  let z = Math.sqrt(Math.max(0, -2 * Math.log(2 * q)));
  for (let step = 0; step < 60; step += 1) {
    const upper = normalUpper(z);
    const next = z + (Math.log(upper / q) * upper) / normalDensity(z);
    if (Math.abs(next - z) <= 1e-15 * Math.max(1, z)) return next;
    z = next;
  }
  return z;
}
