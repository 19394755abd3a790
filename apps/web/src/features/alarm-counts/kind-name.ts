import type { Translate } from '@/lib/i18n/i18n';

/** A kind of alarm in words: ours where we have some, else as the gateway wrote it. */
export const toKindName = (kind: string, t: Translate): string =>
  t.find(`alarmKind.${kind}`) ?? kind.replaceAll(/[-_.]/g, ' ');
