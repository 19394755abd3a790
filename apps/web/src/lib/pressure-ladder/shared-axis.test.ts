import type { PressureMarks } from '@repo/contracts';
import { toSharedAxis } from './shared-axis';

const row = (settingBar: number): PressureMarks => ({
  requiredPa: 120e5,
  resetPointPa: null,
  setPointPa: null,
  settingPa: settingBar * 1e5,
  settingHalfWidthPa: null,
  highestPossiblePa: null,
  workpieceLimitPa: null,
  weakestRatingPa: null,
});

describe('the axis that rows share', () => {
  it('keeps its scale beside one absurd value', () => {
    const sound = [row(150), row(160), row(170)];
    expect(toSharedAxis([...sound, row(20_300)])).toEqual(toSharedAxis(sound));
  });

  it('reaches as far as a high but sensible one', () => {
    expect(toSharedAxis([row(150), row(160), row(650)]).highPa).toBeGreaterThan(650e5);
  });
});
