'use client';

import type { PressureMarks } from '@repo/contracts';
import { miniPressureLadder, type StatusShape } from '@repo/drawing';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPressureText, toUnitSymbol } from '@/lib/quantity/format';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import { SvgDrawing } from '@/ui/svg-drawing';

export function MiniPressureLadder({
  marks,
  status,
  lowPa,
  highPa,
  widthPx,
  size = 'row',
}: {
  marks: PressureMarks;
  status: StatusShape;
  lowPa: number;
  highPa: number;
  widthPx: number;
  size?: 'row' | 'line';
}) {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const show = (pressurePa: number | null): string =>
    pressurePa === null ? t('value.notKnown') : toPressureText(pressurePa, unit).number;
  const title = t('pressureLadder.mini', {
    required: show(marks.requiredPa),
    reset: show(marks.resetPointPa),
    setting: show(marks.settingPa),
    rating: show(marks.weakestRatingPa),
    unit: toUnitSymbol(unit),
  });
  return (
    <SvgDrawing
      drawing={miniPressureLadder({ pressures: marks, status, lowPa, highPa, widthPx, size, paint: 'page', title })}
    />
  );
}

export { toSharedAxis } from './shared-axis';
