import type { Check } from './rungs';

/** Of a check of many parts those that are to be looked at, the worst first, and what they stand under: a warning is no part that does not hold. */
export function toParts({ pairs = [] }: Pick<Check, 'pairs'>) {
  const parts = pairs.filter(({ status }) => status !== 'holds');
  const isBroken = parts.some(({ status }) => status === 'fails' || status === 'unproven');
  return { parts, caption: isBroken ? ('check.pairs' as const) : ('check.pairsToMind' as const) };
}
