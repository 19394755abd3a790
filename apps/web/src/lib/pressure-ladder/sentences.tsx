'use client';

import type { LadderResult } from '@repo/contracts';
import type { ReactNode } from 'react';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { getPlacesApart } from '@/lib/quantity/format';
import { Pressure } from '@/lib/quantity/number';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import type { MessageKey } from '@/messages';
import type { Check } from './rungs';

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

/** The most particular sentence that the catalogue has for a check. */
function findKey(check: Check, t: Translate): MessageKey {
  const keys = [`check.${check.code}.${check.reason}`, `check.${check.code}.${check.status}`];
  return keys.find((key): key is MessageKey => t.find(key) !== null) ?? `check.any.${check.status}`;
}

/** The reason of a check in one sentence: made from its code, its status, its reason and its figures. */
export function CheckSentence({ check }: { check: Check }): ReactNode {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const margin = check.status === 'marginal' ? (check.worstCase ?? check.stated) : (check.stated ?? check.nominal);
  const places = margin === null ? undefined : getPlacesApart(margin.demandPa, margin.capacityPa, unit);
  const show = (pressurePa: number | undefined) =>
    pressurePa === undefined ? '—' : <Pressure pressurePa={pressurePa} {...(places === undefined ? {} : { places })} />;
  const template = findKey(check, t);
  const subject = check.subject?.name ?? t(`check.${check.code}.subject`);
  const parameters = {
    // A name that begins a sentence begins it with a capital.
    subject: t(template).startsWith('{subject}') ? subject.charAt(0).toUpperCase() + subject.slice(1) : subject,
    demand: show(margin?.demandPa),
    capacity: show(margin?.capacityPa),
    margin: show(margin === null ? undefined : Math.abs(margin.marginPa)),
    missing: toMissingText(check, t),
  };
  return t.rich(template, parameters);
}

/** What mends it: computed from the window. Null where there is nothing to mend by setting, or too little is known to say. */
export function WayOut({ ladder }: { ladder: LadderResult }): ReactNode {
  const t = useTranslate();
  const { lowPa, highPa, exists, settingLowestPa, settingHighestPa, resetLowestPa, resetHighestPa } = ladder.window;
  const find = (code: string) => ladder.rungs.find((rung) => rung.code === code)?.pressurePa ?? null;
  if (exists === false && lowPa !== null && highPa !== null) {
    return t.rich('wayOut.noWindow', {
      required: <Pressure pressurePa={lowPa} />,
      allowed: <Pressure pressurePa={highPa} />,
    });
  }
  if (settingLowestPa === null || settingHighestPa === null || resetLowestPa === null || resetHighestPa === null) {
    const isAllKnown = ladder.checks.every((check) => check.status !== 'unproven' && check.missing.length === 0);
    return exists === true && isAllKnown ? t('wayOut.noRoom') : null;
  }
  const isWithin = (value: number | null, low: number, high: number): boolean =>
    value !== null && value >= low - 1 && value <= high + 1;
  const isSettingRight = isWithin(find('setting'), settingLowestPa, settingHighestPa);
  const isResetRight = isWithin(find('reset-point'), resetLowestPa, resetHighestPa);
  const parameters = {
    settingLowest: <Pressure pressurePa={settingLowestPa} hasUnit={false} />,
    settingHighest: <Pressure pressurePa={settingHighestPa} />,
    resetLowest: <Pressure pressurePa={resetLowestPa} hasUnit={false} />,
    resetHighest: <Pressure pressurePa={resetHighestPa} />,
  };
  if (isSettingRight && isResetRight) return null;
  if (isResetRight) return t.rich('wayOut.setting', parameters);
  if (isSettingRight) return t.rich('wayOut.reset', parameters);
  return t.rich('wayOut.both', parameters);
}
