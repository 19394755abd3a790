import { LONGEST_INTERVAL_S } from '@repo/contracts';
import { iso } from '../../platform/clock/iso.js';
import { columns } from '../../platform/sql/sql-transaction.js';
import type { Range } from './merge-reports.js';

/**
 * Counts that reach into one of the stretches: a FROM that names them `a`, and its values, $1 to $6 as a rule.
 * They are found by their end. No interval is longer than the longest allowed: what ends later than that cannot reach in. The outer
 * bounds let the planner leave out the months that are not asked for. OFFSET 0 keeps it going from stretch to stretch: a month that was
 * empty when the statement was planned would else be read from end to end for all circuits.
 * @param also a further condition on the counts, named `c`
 * @param before how many values the statement has of its own, before those of the stretches; the first is the organisation
 */
export const reachingInto = (
  organisationId: string,
  ranges: readonly Range[],
  also = '',
  before = 1,
): { from: string; values: readonly unknown[] } => ({
  from: `FROM unnest($${before + 1}::uuid[], $${before + 2}::timestamptz[], $${before + 3}::timestamptz[]) AS r (circuit_id, low, high)
     CROSS JOIN LATERAL (
       SELECT * FROM alarm_counts c
       WHERE c.organisation_id = $1::uuid AND c.circuit_id = r.circuit_id
         AND c.to_at > r.low AND c.to_at < r.high + make_interval(secs => ${LONGEST_INTERVAL_S}) AND c.from_at < r.high
         AND c.from_at >= $${before + 4}::timestamptz AND c.from_at < $${before + 5}::timestamptz ${also}
       OFFSET 0) a`,
  values: [
    organisationId,
    ...columns(
      ranges,
      (range) => range.circuitId,
      (range) => iso(range.fromMs),
      (range) => iso(range.toMs),
    ),
    iso(Math.min(...ranges.map(({ fromMs }) => fromMs)) - LONGEST_INTERVAL_S * 1000),
    iso(Math.max(...ranges.map(({ toMs }) => toMs))),
  ],
});
