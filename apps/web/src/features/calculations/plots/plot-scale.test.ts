import fc from 'fast-check';
import { toScale } from './plot-scale';

describe('the scale of a plot', () => {
  it('has round ticks that enclose every value', () => {
    expect(toScale([0, 187], 5).ticks).toEqual([0, 50, 100, 150, 200]);
    expect(toScale([-10, 100], 6).ticks).toEqual([-20, 0, 20, 40, 60, 80, 100]);
    expect(toScale([11, 4200], 5, true).ticks).toEqual([10, 100, 1000, 10000]);
    expect(toScale([3, 3], 5).ticks.length).toBeGreaterThan(1);
    expect(toScale([], 5).ticks[0]).toBe(0);
  });

  it('places no value outside of itself, whatever the values', () => {
    const figure = fc.double({ min: -1e9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(fc.array(figure, { minLength: 1, maxLength: 20 }), (values) => {
        const scale = toScale(values, 6);
        for (const value of values) {
          expect(scale.toShare(value)).toBeGreaterThanOrEqual(-1e-6);
          expect(scale.toShare(value)).toBeLessThanOrEqual(1 + 1e-6);
        }
        expect(scale.ticks.length).toBeGreaterThan(1);
        expect(scale.ticks.length).toBeLessThan(12);
      }),
    );
  });
});
