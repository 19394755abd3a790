'use client';

import type { LadderResult } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { getPlacesApart } from '@/lib/quantity/format';
import { Pressure } from '@/lib/quantity/number';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import type { Check } from './rungs';

type Window = LadderResult['window'];

/** "rated pressure of Rotary union, required pressure of operation 30" */
export function toMissingText(check: Pick<Check, 'missing'>, t: Translate): string {
  return check.missing
    .map(({ field, ref }) => {
      const name = ref?.name ?? '';
      const key = name === '' ? `missing.${field}` : `missing.${field}.of`;
      return t.find(key, { name }) ?? t.find(`missing.${field}`) ?? (name === '' ? field : `${field}: ${name}`);
    })
    .join(', ');
}

/** The reason of a check in one sentence: made from its code, its status, its reason and its figures. */
export function CheckSentence({ check }: { check: Check }): ReactNode {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const margin = check.status === 'marginal' ? (check.worstCase ?? check.stated) : (check.stated ?? check.nominal);
  const places = margin === null ? undefined : getPlacesApart(margin.demandPa, margin.capacityPa, unit);
  const show = (pressurePa: number | undefined) =>
    pressurePa === undefined ? '—' : <Pressure pressurePa={pressurePa} {...(places === undefined ? {} : { places })} />;
  const parameters = {
    subject: check.subject?.name ?? t(`check.${check.code}.subject`),
    demand: show(margin?.demandPa),
    capacity: show(margin?.capacityPa),
    margin: show(margin === null ? undefined : Math.abs(margin.marginPa)),
    missing: toMissingText(check, t),
  };
  return (
    t.findRich(`check.${check.code}.${check.reason}`, parameters) ??
    t.findRich(`check.${check.code}.${check.status}`, parameters) ??
    t.findRich(`check.any.${check.status}`, parameters)
  );
}

/** What mends it: computed from the window. Null where there is nothing to mend by setting. */
export function WayOut({
  window,
  settingPa,
  settingHalfWidthPa,
  resetPointPa,
}: {
  window: Window;
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  resetPointPa: number | null;
}): ReactNode {
  const t = useTranslate();
  const { lowPa, highPa, settingLowestPa, settingHighestPa, resetLowestPa, resetHighestPa } = window;
  if (window.exists === false && lowPa !== null && highPa !== null) {
    const places = { required: <Pressure pressurePa={lowPa} />, allowed: <Pressure pressurePa={highPa} /> };
    return t.rich('wayOut.noWindow', places);
  }
  if (settingLowestPa === null || settingHighestPa === null || resetLowestPa === null || resetHighestPa === null) {
    return window.exists === true ? t('wayOut.noRoom') : null;
  }
  const isWithin = (value: number | null, low: number, high: number): boolean =>
    value !== null && value >= low - 1 && value <= high + 1;
  const isSettingRight = isWithin(settingPa, settingLowestPa, settingHighestPa);
  const isResetRight = isWithin(resetPointPa, resetLowestPa, resetHighestPa);
  const parameters = {
    settingLowest: <Pressure pressurePa={settingLowestPa} hasUnit={false} />,
    settingHighest: <Pressure pressurePa={settingHighestPa} halfWidthPa={settingHalfWidthPa} />,
    resetLowest: <Pressure pressurePa={resetLowestPa} hasUnit={false} />,
    resetHighest: <Pressure pressurePa={resetHighestPa} />,
  };
  if (isSettingRight && isResetRight) return null;
  if (isResetRight) return t.rich('wayOut.setting', parameters);
  if (isSettingRight) return t.rich('wayOut.reset', parameters);
  return t.rich('wayOut.both', parameters);
}
