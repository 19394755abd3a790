import fc from 'fast-check';
import { depthOf, isWellFormed } from './json-body.js';

const measure = (value: unknown): number =>
  typeof value === 'object' && value !== null ? 1 + Math.max(0, ...Object.values(value).map(measure)) : 0;

describe('the depth of a JSON text', () => {
  it('is that of its value, whatever stands in its strings', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 8 }), (value) => depthOf(JSON.stringify(value)) === measure(value)),
      {
        numRuns: 500,
      },
    );
    expect(depthOf('{"a":"[[[[\\"[[["}')).toBe(1);
  });

  it('of a megabyte of brackets is counted, and quickly', () => {
    const began = performance.now();
    expect(depthOf('['.repeat(1_000_000))).toBe(1_000_000);
    expect(performance.now() - began).toBeLessThan(500);
  });
});

describe('well-formed text', () => {
  it('holds whole pairs alone, in values and in names', () => {
    expect(isWellFormed({ a: ['x', { b: '\u{1F600}' }], c: null, d: 3 })).toBe(true);
    expect(isWellFormed({ a: ['x', { b: '\uD800' }] })).toBe(false);
    expect(isWellFormed({ '\uDC00': 1 })).toBe(false);
    expect(isWellFormed('\uDC00\uD800')).toBe(false);
  });
});
