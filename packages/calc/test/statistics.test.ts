import { gammaQuantile } from '../src/numeric/gamma-quantile.js';
import { gammaTails, logGamma, logPoissonTerm } from '../src/numeric/gamma.js';
import { gaussLegendre } from '../src/numeric/gauss-legendre.js';
import { normalUpper, normalUpperQuantile } from '../src/numeric/normal.js';
import { meanAbsorptionTime } from '../src/numeric/absorption-time.js';
import { integrate } from '../src/numeric/quadrature.js';
import { findRoot } from '../src/numeric/root.js';
import { propagateTolerances } from '../src/statistics/propagate-tolerances.js';
import { symmetricSumProbability, uniformSumProbability } from '../src/statistics/symmetric-sum.js';
import { toleranceStack } from '../src/statistics/tolerance-stack.js';

describe('sums of independent errors', () => {
  test('one, two and three uniforms by their closed forms', () => {
    expect(uniformSumProbability(0.5, [1])).toBeCloseTo(0.75, 12);
    expect(uniformSumProbability(5, [3, 4])).toBeCloseTo(23 / 24, 12);
    expect(uniformSumProbability(6, [3, 4, 5])).toBeCloseTo(0.925, 12);
    expect([uniformSumProbability(7, [3, 4]), uniformSumProbability(-7.1, [3, 4])]).toEqual([1, 0]);
    expect(
      uniformSumProbability(
        0,
        Array.from({ length: 11 }, () => 1),
      ),
    ).toBeNull();
    expect(uniformSumProbability(0.1, [1, 1e-6, 1e-6, 1e-6])).toBeNull();
  });

  test('the series agrees with the closed form, and with the normal distribution', () => {
    for (const x of [-5, -1, 0, 2, 6.5]) {
      const exact = Number(uniformSumProbability(x, [3, 4]));
      expect(symmetricSumProbability(x, { uniform: [3, 4], sigma: 1e-4 })).toBeCloseTo(exact, 4);
      expect(symmetricSumProbability(x, { uniform: [], sigma: 2 })).toBeCloseTo(1 - normalUpper(x / 2), 7);
    }
    expect(symmetricSumProbability(0.3, { uniform: Array.from({ length: 12 }, () => 1), sigma: 0 })).toBeCloseTo(
      1 - normalUpper(0.15),
      2,
    );
    expect(symmetricSumProbability(100, { uniform: [1], sigma: 1 })).toBe(1);
    expect(symmetricSumProbability(-100, { uniform: [1], sigma: 1 })).toBe(0);
    expect([
      symmetricSumProbability(0, { uniform: [], sigma: 0 }),
      symmetricSumProbability(-1, { uniform: [], sigma: 0 }),
    ]).toEqual([1, 0]);
  });

  test('a stack without any width is a point', () => {
    const term = { nominal: 5, halfWidth: 0, distribution: 'normal' as const, sensitivity: 1 };
    const probability = (limit: { lower?: number; upper?: number }): number =>
      toleranceStack({ terms: [term], limit }).probability;
    expect([
      probability({ upper: 5 }),
      probability({ upper: 4.9 }),
      probability({ lower: 5 }),
      probability({ lower: 5.1 }),
    ]).toEqual([1, 0, 1, 0]);
    expect(() => probability({})).toThrow('a lower or an upper limit');
    expect(() => probability({ lower: 2, upper: 1 })).toThrow('lower not above upper');
  });
});

describe('tolerances carried through', () => {
  const terms = [
    { nominal: 0, halfWidth: 3, distribution: 'uniform' as const },
    { nominal: 10, halfWidth: 4, distribution: 'triangular' as const },
    { nominal: 0, halfWidth: 3, distribution: 'normal' as const },
  ];
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const run = (seed: number, points = 2000) =>
    propagateTolerances({ terms, evaluate: sum, limit: { lower: 8, upper: 13 }, seed, points });

  test('agrees with the exact stack within its own error', () => {
    const exact = toleranceStack({
      terms: terms.map((term) => ({ ...term, sensitivity: 1 })),
      limit: { lower: 8, upper: 13 },
    }).probability;
    const found = run(7);
    expect(Math.abs(found.probability - exact)).toBeLessThan(5 * found.probabilityError + 1e-4);
    expect(found.probabilityError).toBeLessThan(0.002);
    expect([found.nominal, found.lowest, found.highest]).toEqual([10, 0, 20]);
    expect(found.standardDeviation).toBeCloseTo(Math.sqrt(3 + 16 / 6 + 1), 2);
    expect(found.mean).toBeCloseTo(10, 2);
  });

  test('the same seed gives the same bytes, another seed does not', () => {
    expect(JSON.stringify(run(7))).toBe(JSON.stringify(run(7)));
    expect(run(8).probability).not.toBe(run(7).probability);
  });

  test('many terms: the range of the sample; bad input is refused', () => {
    const many = Array.from({ length: 13 }, () => ({ nominal: 1, halfWidth: 0.1, distribution: 'uniform' as const }));
    const found = propagateTolerances({ terms: many, evaluate: sum, limit: { lower: 0 }, seed: 1, points: 100 });
    expect(found.highest).toBeLessThan(14.3);
    expect(found.probability).toBe(1);
    const bad = (change: object) => () =>
      propagateTolerances({ terms, evaluate: sum, limit: { upper: 1 }, seed: 1, points: 10, ...change });
    expect(bad({ terms: Array.from({ length: 21 }, () => terms[0]) })).toThrow('at most 20');
    expect(bad({ limit: {} })).toThrow('a limit');
    expect(bad({ seed: 1.5 })).toThrow('whole');
    expect(bad({ points: 0 })).toThrow('whole');
    expect(bad({ evaluate: () => Number.NaN })).toThrow('finite');
  });
});

describe('numerical helpers', () => {
  test('a chain that comes to where nobody leaves never ends; one that cannot come there does', () => {
    // From 0 to 1 with one half, else out; 1 never leaves.
    expect(meanAbsorptionTime(Float64Array.from([0, 0.5, 0, 0]), Float64Array.from([0.5, 0]), 0, 2)).toBe(Infinity);
    expect(meanAbsorptionTime(Float64Array.from([0.5, 0, 0, 0]), Float64Array.from([0.5, 0]), 0, 2)).toBe(2);
  });

  test('gamma: reflection, recurrence, both tails, quantiles', () => {
    expect(logGamma(0.25)).toBeCloseTo(Math.log(3.625609908221908), 12);
    expect(logGamma(5)).toBeCloseTo(Math.log(24), 12);
    expect(Math.exp(logPoissonTerm(3, 2))).toBeCloseTo((Math.exp(-2) * 8) / 6, 14);
    expect(logPoissonTerm(50, 100)).toBeCloseTo(50 * Math.log(100) - 100 - logGamma(51), 9);
    for (const [a, x] of [
      [0.5, 0.1],
      [3, 8],
      [50, 40],
      [1000, 1100],
    ] as const) {
      const { lower, upper } = gammaTails(a, x);
      expect(lower + upper).toBeCloseTo(1, 14);
      expect(gammaQuantile(a, { lower })).toBeCloseTo(x, 6);
      expect(gammaQuantile(a, { upper })).toBeCloseTo(x, 6);
    }
    expect(gammaTails(2, 0)).toEqual({ lower: 0, upper: 1 });
  });

  test('normal: symmetric, far tail, quantile', () => {
    expect(normalUpper(0)).toBe(0.5);
    expect(normalUpper(-1.5) + normalUpper(1.5)).toBeCloseTo(1, 15);
    expect(normalUpper(10) / 7.619853024160527e-24).toBeCloseTo(1, 10);
    expect(normalUpperQuantile(0.025)).toBeCloseTo(1.959963984540054, 12);
    expect(normalUpperQuantile(0.5)).toBeCloseTo(0, 12);
    expect(normalUpperQuantile(1e-16)).toBeCloseTo(8.222082216130435, 8);
  });

  test('quadrature and roots', () => {
    expect(integrate((x) => Math.exp(-x * x), -6, 6)).toBeCloseTo(Math.sqrt(Math.PI), 11);
    expect(integrate((x) => Math.sqrt(Math.abs(x - 0.3)), 0, 1)).toBeCloseTo((2 / 3) * (0.3 ** 1.5 + 0.7 ** 1.5), 8);
    expect(findRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 14);
    expect(findRoot((x) => 1 - x, 0, 3)).toBeCloseTo(1, 14);
    const { nodes, weights } = gaussLegendre(5);
    expect(nodes[2]).toBe(0);
    expect(weights.reduce((total, weight) => total + weight, 0)).toBeCloseTo(2, 14);
  });
});
