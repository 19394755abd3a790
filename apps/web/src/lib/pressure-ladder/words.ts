'use client';

import type { PressureLadderWords } from '@repo/drawing';
import { useMemo } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { PASCAL_PER_UNIT, toPressureText, toUnitSymbol } from '@/lib/quantity/format';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';

/** The reader's words and numbers for drawings. */
export function usePressureLadderWords(): PressureLadderWords {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  return useMemo(
    () => ({
      unit: toUnitSymbol(unit),
      pascalPerUnit: PASCAL_PER_UNIT[unit],
      format: (pressurePa: number, halfWidthPa: number | null) => toPressureText(pressurePa, unit, { halfWidthPa }),
      notKnown: t('value.notKnown'),
      noWindow: t('pressureLadder.noWindow'),
      title: t('pressureLadder.title'),
      statuses: {
        holds: t('status.holds'),
        marginal: t('status.marginal'),
        fails: t('status.fails'),
        unproven: t('status.unproven'),
        drifting: t('status.drifting'),
        'not-applicable': t('status.not-applicable'),
      },
    }),
    [t, unit],
  );
}
