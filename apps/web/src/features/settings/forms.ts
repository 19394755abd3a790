import { toSi } from '@repo/quantity';
import type { Translate } from '@/lib/i18n/i18n';
import { quantity } from '@/lib/forms';
import type { EnteredQuantity } from '@/lib/quantity/format';
import type { MessageKey } from '@/messages';
import {
  MEASURED_FIELDS,
  MEASURED_KINDS,
  SETTING_FIELDS,
  type MeasuredField,
  type SettingField,
} from './setting-names';

type Quantities<F extends string> = Record<F, EnteredQuantity | null>;

/** How each is taken, where that is not plain. */
const READING_HINTS: Partial<Record<MeasuredField, MessageKey>> = {
  clampTime: 'settings.clampTimeHint',
  contactTime: 'settings.contactTimeHint',
  unclampTime: 'settings.unclampTimeHint',
  lowestWhileShared: 'settings.lowestWhileSharedHint',
};

const byName = <F extends string, T>(names: readonly F[], make: (name: F) => T): Record<F, T> =>
  Object.fromEntries(names.map((name) => [name, make(name)])) as Record<F, T>;

export const toSettingFields = (pressureUnit: string) =>
  byName(SETTING_FIELDS, (name) =>
    quantity({ label: `settings.${name}`, kind: 'pressure', unit: pressureUnit, isRequired: name === 'setting' }),
  );

/** The settings as they stand, to be changed from there; none where there are none. */
export const toSettingValues = (
  from: Partial<Record<SettingField, EnteredQuantity | null | undefined>> | null,
): Quantities<SettingField> => byName(SETTING_FIELDS, (name) => from?.[name] ?? null);

export const toMeasuredFields = (pressureUnit: string) =>
  byName(MEASURED_FIELDS, (name) =>
    quantity({
      label: `settings.${name}`,
      ...(READING_HINTS[name] === undefined ? {} : { hint: READING_HINTS[name] }),
      kind: MEASURED_KINDS[name].kind,
      unit: MEASURED_KINDS[name].unit ?? pressureUnit,
    }),
  );

export const toMeasuredValues = (
  from: Partial<Record<MeasuredField, EnteredQuantity | null>>,
): Quantities<MeasuredField> => byName(MEASURED_FIELDS, (name) => from[name] ?? null);

export const NOTHING_MEASURED: Quantities<MeasuredField> = byName(MEASURED_FIELDS, () => null);

const toPascal = ({ value, unit }: EnteredQuantity): number => toSi(value, unit, 'pressure');

/** Where settings contradict each other, at the field that is to be changed. */
export function listSwitchContradictions(
  { setPoint, resetPoint }: Quantities<'setPoint' | 'resetPoint'>,
  t: Translate,
): { field: 'resetPoint'; text: string }[] {
  if (setPoint === null || resetPoint === null || toPascal(resetPoint) < toPascal(setPoint)) return [];
  return [{ field: 'resetPoint', text: t('fieldProblem.not-below-set-point', { label: t('settings.resetPoint') }) }];
}

/** The same of readings: a gauge is described whole or not at all, and so is a fall of pressure. */
export function listContradictions(
  values: Quantities<SettingField | MeasuredField> & { gaugeClass: string },
  t: Translate,
): { field: 'resetPoint' | 'gaugeClass' | 'decayDuration'; text: string }[] {
  const isHalf = (a: boolean, b: boolean): boolean => a !== b;
  return [
    ...listSwitchContradictions(values, t),
    ...(isHalf(values.gaugeSpan === null, values.gaugeClass === '')
      ? [{ field: 'gaugeClass' as const, text: t('settings.gaugeWhole') }]
      : []),
    ...(isHalf(values.decay === null, values.decayDuration === null)
      ? [{ field: 'decayDuration' as const, text: t('settings.decayWhole') }]
      : []),
  ];
}
