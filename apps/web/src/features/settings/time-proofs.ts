import { CHECKS } from '@repo/calc/checks';
import { showTyped, type Say } from '../../lib/quantity/figure-doubts';
import type { EnteredQuantity } from '../../lib/quantity/format';
import type { MeasuredField } from './setting-names';

interface Allowed {
  clampTimeAllowed: EnteredQuantity | null;
  unclampTimeAllowed: EnteredQuantity | null;
}

/** Which check a time proves, and the time that it may not be above; of the contact there is none, the switch itself is its bound. */
const PROOFS = {
  clampTime: { check: 'clamping-time', most: 'clampTimeAllowed' },
  contactTime: { check: 'clamping-time', most: null },
  unclampTime: { check: 'unclamping', most: 'unclampTimeAllowed' },
} as const satisfies Partial<Record<MeasuredField, { check: keyof typeof CHECKS; most: keyof Allowed | null }>>;
type ProvingTime = keyof typeof PROOFS;

const isProvingTime = (field: string): field is ProvingTime => field in PROOFS;

/** What stands beside a time: the check that it proves, from which side, and what it is held against. */
export function sayWhatTimeProves(field: string, allowed: Allowed, t: Say): string | undefined {
  if (!isProvingTime(field)) return undefined;
  const { check, most } = PROOFS[field];
  const words = { number: CHECKS[check].number, check: t(`check.${check}.name`) };
  if (most === null) return t('settings.provesFromBelow', words);
  const limit = allowed[most];
  if (limit === null) return t('settings.provesNothingAllowed', words);
  return t(field === 'clampTime' ? 'settings.provesClamping' : 'settings.provesUnclamping', {
    ...words,
    limit: showTyped(limit),
  });
}
