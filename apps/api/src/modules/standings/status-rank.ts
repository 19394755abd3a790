import type { CheckStatus } from '@repo/calc';

/** The order in which circuits need somebody. */
export const STATUS_RANK: Record<CheckStatus, number> = {
  fails: 0,
  marginal: 1,
  unproven: 2,
  holds: 3,
  'not-applicable': 4,
};
