import type { QuantityKind } from '@repo/quantity';

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

/** Those of a movement, in the order in which they pass, with how far they may be off. */
export const TIME_FIELDS = [
  'clampTime',
  'contactTime',
  'unclampTime',
  'timeTolerance',
] as const satisfies readonly MeasuredField[];

/** Kind of what is measured, and the unit in which it is usually read; pressures come in the reader's own. */
export const MEASURED_KINDS: Readonly<Record<MeasuredField, { kind: QuantityKind; unit?: string }>> = {
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
