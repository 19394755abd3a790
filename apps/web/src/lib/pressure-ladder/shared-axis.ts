import type { PressureMarks } from '@repo/contracts';

const STEP_PA = 50e5;
/** A row that reaches this many times beyond the middle one is most likely mistyped: the others keep their scale. */
const ABSURD = 5;

const middleOf = (sorted: readonly number[]): number => sorted[Math.floor((sorted.length - 1) / 2)] ?? 0;

/**
 * One axis for all rows: round ends around all that is required, set or possible in any of them. What lies far beyond the rows'
 * middle does not stretch it; its mark stands at the edge.
 */
export function toSharedAxis(rows: readonly PressureMarks[]): { lowPa: number; highPa: number } {
  const lows: number[] = [];
  const highs: number[] = [4 * STEP_PA];
  const tops = rows.flatMap((row) => {
    const all = [row.requiredPa, row.settingPa, row.highestPossiblePa].filter((pa) => pa !== null);
    return all.length === 0 ? [] : [Math.max(...all)];
  });
  const edgePa = ABSURD * Math.max(4 * STEP_PA, middleOf(tops.sort((a, b) => a - b)));
  for (const { requiredPa, resetPointPa, settingPa, highestPossiblePa } of rows) {
    for (const pa of [requiredPa, resetPointPa, settingPa]) if (pa !== null && pa <= edgePa) lows.push(pa);
    for (const pa of [requiredPa, settingPa, highestPossiblePa]) if (pa !== null && pa <= edgePa) highs.push(pa);
  }
  const least = lows.length === 0 ? 0 : Math.min(...lows);
  const most = Math.max(...highs);
  return {
    lowPa: Math.max(0, Math.floor((least * 0.9) / STEP_PA) * STEP_PA),
    highPa: Math.ceil((most * 1.05) / STEP_PA) * STEP_PA,
  };
}
