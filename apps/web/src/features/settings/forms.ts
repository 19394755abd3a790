import { toSi, type QuantityKind } from '@repo/quantity';
import { readQuantity, type QuantityDraft } from '@/lib/quantity/quantity-field';
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
export type MeasuredField = (typeof MEASURED_FIELDS)[number];

export const KINDS: Readonly<Record<SettingField | MeasuredField, QuantityKind>> = {
  setting: 'pressure',
  settingTolerance: 'pressure',
  setPoint: 'pressure',
  resetPoint: 'pressure',
  airPressure: 'pressure',
  pumpRestart: 'pressure',
  pumpRestartTolerance: 'pressure',
  clampTime: 'time',
  contactTime: 'time',
  unclampTime: 'time',
  timeTolerance: 'time',
  decay: 'pressure',
  decayDuration: 'time',
  oilTemperature: 'temperature',
  lowestWhileShared: 'pressure',
  gaugeSpan: 'pressure',
};

/** As somebody would have typed it, to be changed from there. */
export function toQuantityDraft(quantity: EnteredQuantity | null | undefined, unit: string): QuantityDraft {
  if (quantity === null || quantity === undefined) return { text: '', unit };
  const text = quantity.digits === undefined ? String(quantity.value) : quantity.value.toFixed(quantity.digits);
  return { text, unit: quantity.unit };
}

export interface TypedQuantity {
  value: number;
  unit: string;
  digits: number;
}

const toPascal = ({ value, unit }: TypedQuantity): number => toSi(value, unit, 'pressure');

/** Reads all quantity fields; those that cannot be read are named with the code of what is wrong. */
export function readQuantities<F extends SettingField | MeasuredField>(
  drafts: Readonly<Record<F, QuantityDraft>>,
  fields: readonly F[],
): { quantities: Record<F, TypedQuantity | null>; problems: { field: F; code: string }[] } {
  const quantities: Partial<Record<F, TypedQuantity | null>> = {};
  const problems: { field: F; code: string }[] = [];
  for (const field of fields) {
    const reading = readQuantity(drafts[field], KINDS[field]);
    if (reading.ok) quantities[field] = reading.quantity;
    else problems.push({ field, code: reading.code });
  }
  const { setPoint, resetPoint }: Partial<Record<string, TypedQuantity | null>> = quantities;
  if (setPoint && resetPoint && toPascal(resetPoint) >= toPascal(setPoint)) {
    problems.push({ field: 'resetPoint' as F, code: 'not-below-set-point' });
  }
  // A field that could not be read stands in `problems`, and then nothing is sent.
  return { quantities: { ...emptyOf(fields), ...quantities }, problems };
}

function emptyOf<F extends string>(fields: readonly F[]): Record<F, null> {
  return Object.fromEntries(fields.map((field) => [field, null])) as Record<F, null>;
}
