import type { QuantityKind } from '@repo/quantity';
import { quantity } from '@/lib/forms';
import type { EnteredQuantity } from '@/lib/quantity/format';

/** The pressures that both target and as-left settings have, in the order in which they are set. */
export const SETTING_FIELDS = [
  'setting',
  'settingTolerance',
  'setPoint',
  'resetPoint',
  'airPressure',
  'pumpRestart',
  'pumpRestartTolerance',
] as const;
export type SettingField = (typeof SETTING_FIELDS)[number];

export const MEASURED_FIELDS = [
  'clampTime',
  'contactTime',
  'unclampTime',
  'timeTolerance',
  'decay',
  'decayDuration',
  'oilTemperature',
  'lowestWhileShared',
  'gaugeSpan',
] as const;
type MeasuredField = (typeof MEASURED_FIELDS)[number];

type Quantities<F extends string> = Record<F, EnteredQuantity | null>;

/** Kind of what is measured, and the unit in which it is usually read; pressures come in the reader's own. */
const MEASURED: Readonly<Record<MeasuredField, { kind: QuantityKind; unit?: string }>> = {
  clampTime: { kind: 'time', unit: 's' },
  contactTime: { kind: 'time', unit: 's' },
  unclampTime: { kind: 'time', unit: 's' },
  timeTolerance: { kind: 'time', unit: 's' },
  decay: { kind: 'pressure' },
  decayDuration: { kind: 'time', unit: 'min' },
  oilTemperature: { kind: 'temperature', unit: 'Cel' },
  lowestWhileShared: { kind: 'pressure' },
  gaugeSpan: { kind: 'pressure' },
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
    quantity({ label: `settings.${name}`, kind: MEASURED[name].kind, unit: MEASURED[name].unit ?? pressureUnit }),
  );

export const NOTHING_MEASURED: Quantities<MeasuredField> = byName(MEASURED_FIELDS, () => null);
