import { canRead, isSwitchPossible } from './switch-points.js';

describe('A pressure switch', () => {
  it('makes above where it drops out, never at the same pressure', () => {
    expect(isSwitchPossible(10e6, 9e6)).toBe(true);
    expect(isSwitchPossible(10e6, 10e6)).toBe(false);
    expect(isSwitchPossible(10e6, 11e6)).toBe(false);
  });

  it('is not judged by what is not known', () => {
    expect(isSwitchPossible(null, 11e6)).toBe(true);
    expect(isSwitchPossible(10e6, null)).toBe(true);
  });
});

describe('a setting and the gauge that it was read on', () => {
  it('lies within its span; what is not known breaks nothing', () => {
    expect(canRead(25e6, 17.5e6)).toBe(true);
    expect(canRead(17.5e6, 17.5e6)).toBe(true);
    expect(canRead(16e6, 17.5e6)).toBe(false);
    expect(canRead(null, 17.5e6)).toBe(true);
    expect(canRead(16e6, null)).toBe(true);
  });
});
