'use client';

import type { LadderMarks } from '@repo/contracts';
import { miniLadder, type StatusShape } from '@repo/drawing';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPressureText, toUnitSymbol } from '@/lib/quantity/format';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { SvgDrawing } from '@/ui/svg-drawing';

export function MiniLadder({
  marks,
  status,
  lowPa,
  highPa,
  widthPx,
  size = 'row',
}: {
  marks: LadderMarks;
  status: StatusShape;
  lowPa: number;
  highPa: number;
  widthPx: number;
  size?: 'row' | 'line';
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const show = (pressurePa: number | null): string =>
    pressurePa === null ? t('ladder.notKnown') : toPressureText(pressurePa, unit).number;
  const title = t('ladder.mini', {
    required: show(marks.requiredPa),
    reset: show(marks.resetPointPa),
    setting: show(marks.settingPa),
    rating: show(marks.weakestRatingPa),
    unit: toUnitSymbol(unit),
  });
  return (
    <SvgDrawing
      drawing={miniLadder({ pressures: marks, status, lowPa, highPa, widthPx, size, paint: 'page', title })}
    />
  );
}

const STEP_PA = 50e5;

/** One axis for all rows: round ends around all that is required, set or possible in any of them. */
export function toSharedAxis(rows: readonly LadderMarks[]): { lowPa: number; highPa: number } {
  const lows: number[] = [];
  const highs: number[] = [4 * STEP_PA];
  for (const { requiredPa, resetPointPa, settingPa, highestPossiblePa } of rows) {
    for (const pa of [requiredPa, resetPointPa, settingPa]) if (pa !== null) lows.push(pa);
    for (const pa of [requiredPa, settingPa, highestPossiblePa]) if (pa !== null) highs.push(pa);
  }
  const least = lows.length === 0 ? 0 : Math.min(...lows);
  const most = Math.max(...highs);
  return {
    lowPa: Math.max(0, Math.floor((least * 0.9) / STEP_PA) * STEP_PA),
    highPa: Math.ceil((most * 1.05) / STEP_PA) * STEP_PA,
  };
}
