import { fitsForm } from './station-count.js';

describe('The stations of a machine', () => {
  it('are one where it has no pallets, and any number where it has', () => {
    expect(fitsForm('single-station', 1)).toBe(true);
    expect(fitsForm('single-station', 2)).toBe(false);
    expect(fitsForm('pallets', 12)).toBe(true);
  });
});
