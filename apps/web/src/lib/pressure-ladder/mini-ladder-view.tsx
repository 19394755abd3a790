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

/** One axis for all rows: from nought to the next 50 bar above what is set, required or weakest anywhere in them. */
export function toSharedAxis(rows: readonly LadderMarks[]): { lowPa: number; highPa: number } {
  let most = 4 * STEP_PA;
  for (const marks of rows) {
    for (const pa of [marks.requiredPa, marks.settingPa, marks.highestPossiblePa])
      if (pa !== null && pa > most) most = pa;
  }
  return { lowPa: 0, highPa: Math.ceil((most * 1.05) / STEP_PA) * STEP_PA };
}
