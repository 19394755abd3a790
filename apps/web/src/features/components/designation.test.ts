import fc from 'fast-check';
import { suggestDesignation } from './designation';

describe('suggestDesignation', () => {
  const fitted = [
    { designation: 'H1.1', placeId: 'unit' },
    { designation: 'H2.1', placeId: 'first' },
    { designation: 'H2.7', placeId: 'first' },
    { designation: 'gauge by the door', placeId: 'first' },
  ];

  it('goes on after the highest number at the place', () => {
    expect(suggestDesignation(fitted, 'first', 2)).toBe('H2.8');
    expect(suggestDesignation(fitted, 'unit', 1)).toBe('H1.2');
  });

  it('gives an empty place a circuit number that nobody has', () => {
    expect(suggestDesignation(fitted, 'second', 2)).toBe('H3.1');
    expect(suggestDesignation([], 'unit', 1)).toBe('H1.1');
  });

  it('keeps the letter of the medium that is used there', () => {
    expect(suggestDesignation([{ designation: 'P4.2', placeId: 'air' }], 'air', 1)).toBe('P4.3');
  });

  it('never suggests an item that is there already', () => {
    const placed = fc.record({
      designation: fc.tuple(fc.constantFrom('H', 'P', ''), fc.nat(4), fc.nat(6)).map(([m, c, n]) => `${m}${c}.${n}`),
      placeId: fc.constantFrom('a', 'b', 'c'),
    });
    fc.assert(
      fc.property(fc.array(placed), fc.constantFrom('a', 'b', 'c', 'd'), fc.nat(5), (components, placeId, number) => {
        const suggested = suggestDesignation(components, placeId, number);
        expect(components.map(({ designation }) => designation)).not.toContain(suggested);
      }),
    );
  });
});
