'use client';

import type { ReactNode } from 'react';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { getPlacesApart } from '@/lib/quantity/format';
import { Pressure } from '@/lib/quantity/number';
import { usePressureUnit } from '@/lib/quantity/pressure-unit';
import type { MessageKey } from '@/messages';
import { CheckNumber } from './check-number';
import type { Check } from './rungs';

/** More than these are counted, not named. */
const MOST_NAMED = 6;

/** "rated pressure of Rotary union, required pressure of operation 30" */
export function toMissingText(check: Pick<Check, 'missing'>, t: Translate): string {
  const names = check.missing.map(({ field, ref }) => {
    const name = ref?.name ?? '';
    const key = name === '' ? `missing.${field}` : `missing.${field}.of`;
    return t.find(key, { name }) ?? t.find(`missing.${field}`) ?? (name === '' ? field : `${field}: ${name}`);
  });
  const all = [...new Set(names)];
  const named = t.list(all.slice(0, MOST_NAMED));
  return all.length > MOST_NAMED ? t('check.andMore', { named, count: all.length - MOST_NAMED }) : named;
}

/** A load case in words: `1/45/part` is cutting at point 1, feed direction 45°, part of the teeth in cut. */
export function toCaseText(loadCase: string, t: Translate): string {
  const [first = '', ...words] = loadCase.split('/');
  if (first === 'clamped') return t('operations.case.clamped', { step: words.join('/') });
  if (first === 'turned' || first === 'indexing') return t(`operations.case.${first}`, { number: words.join('/') });
  const toWord = (word: string): string => {
    if (/^\d+$/.test(word)) return t('operations.case.direction', { angle: word });
    const [, number] = /^weight-(\d+)$/.exec(word) ?? [];
    if (number !== undefined) return t('operations.case.weight', { number });
    return t.find(`operations.case.${word}`) ?? word;
  };
  return t.list([t('operations.case.at', { point: first }), ...words.map(toWord)]);
}

/** The most particular sentence that the catalogue has for a check. */
function findKey(check: Check, t: Translate): MessageKey {
  const isNever = check.status === 'fails' && (check.stated ?? check.numbers?.stated ?? null) === null;
  const { governing } = check;
  const keys = [
    ...(governing === undefined
      ? []
      : [`check.${check.code}.${check.reason}.${governing}`, `check.${check.code}.${check.status}.${governing}`]),
    ...(isNever ? [`check.${check.code}.${check.reason}.never`] : []),
    `check.${check.code}.${check.reason}`,
    `check.${check.code}.${check.status}`,
  ];
  return keys.find(t.has) ?? `check.any.${check.status}`;
}

/** The reason of a check in one sentence: made from its code, its status, its reason and its figures. */
export function CheckSentence({ check }: { check: Check }): ReactNode {
  const t = useTranslate();
  const { unit } = usePressureUnit();
  const margin = check.status === 'marginal' ? (check.worstCase ?? check.stated) : (check.stated ?? check.nominal);
  const places = margin === null ? undefined : getPlacesApart(margin.demandPa, margin.capacityPa, unit);
  const show = (pressurePa: number | undefined) =>
    pressurePa === undefined ? '—' : <Pressure pressurePa={pressurePa} {...(places === undefined ? {} : { places })} />;
  const plain =
    (check.status === 'marginal' ? check.numbers?.worstCase : null) ??
    check.numbers?.stated ??
    check.numbers?.nominal ??
    null;
  const kind = check.numbers?.kind;
  const number = (name: 'demand' | 'capacity' | 'margin') =>
    plain === null || kind === undefined ? null : <CheckNumber kind={kind} value={Math.abs(plain[name])} />;
  const template = findKey(check, t);
  const subject = check.subject?.name ?? t(`check.${check.code}.subject`);
  const parameters = {
    // A name that begins a sentence begins it with a capital.
    subject: t.beginsWith(template, 'subject') ? subject.charAt(0).toUpperCase() + subject.slice(1) : subject,
    demand: number('demand') ?? show(margin?.demandPa),
    capacity: number('capacity') ?? show(margin?.capacityPa),
    margin: number('margin') ?? show(margin === null ? undefined : Math.abs(margin.marginPa)),
    missing: toMissingText(check, t),
    case: toCaseText(check.loadCase ?? '', t),
  };
  return t.rich(template, parameters);
}
