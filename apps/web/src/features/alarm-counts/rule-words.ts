import type { Translate } from '@/lib/i18n/i18n';
import { toKindName } from './kind-name';

/** Windows that a rule can be given. */
export const WINDOWS = [
  { value: '3600', key: 'hour' },
  { value: '28800', key: 'shift' },
  { value: '86400', key: 'day' },
  { value: '604800', key: 'week' },
] as const;

export function toWindow(windowS: number, t: Translate): string {
  const known = WINDOWS.find(({ value }) => Number(value) === windowS);
  return known === undefined
    ? t('rule.window.other', { hours: Math.round(windowS / 360) / 10 })
    : t(`rule.window.${known.key}`);
}

/** What a rule counts: alarms of any kind, or of one. */
export const toAlarms = (alarmKind: string | null, t: Translate): string =>
  alarmKind === null ? t('rule.anyKind') : t('rule.ofKind', { kind: toKindName(alarmKind, t) });
