/** Counts of one interval that a rule looks at. */
export interface RuleCount {
  readonly fromMs: number;
  readonly toMs: number;
  readonly count: number;
}

export interface RuleEvidence<C extends RuleCount> {
  /** the most within a window */
  readonly most: number;
  /** does it open an issue? */
  readonly isTripped: boolean;
  /** intervals with alarms in windows that reach half of the threshold: evidence for an issue that is open */
  readonly evidence: readonly C[];
}

/**
 * So many alarms within a window. A window ends with each interval and holds every interval that reaches into it, so that a report
 * by the day can trip a rule by the hour. What began before the last issue was closed does not count again: a late report of old
 * alarms opens nothing anew. Nor does a window that ended before `sinceMs`: that is history. An open issue goes on gathering down to
 * half of the threshold: around it, nothing flaps.
 */
export function applyRule<C extends RuleCount>(
  rule: { threshold: number; windowMs: number },
  counts: readonly C[],
  { closedAtMs = null, sinceMs = -Infinity }: { closedAtMs?: number | null; sinceMs?: number } = {},
): RuleEvidence<C> {
  const rows = counts
    .filter((row) => row.count > 0 && (closedAtMs === null || row.fromMs >= closedAtMs))
    .sort((a, b) => a.toMs - b.toMs || a.fromMs - b.fromMs);
  const evidence = new Set<C>();
  let most = 0;
  let isTripped = false;
  let sum = 0;
  let first = 0;
  for (const [index, row] of rows.entries()) {
    sum += row.count;
    for (
      let oldest = rows[first];
      oldest !== undefined && oldest.toMs <= row.toMs - rule.windowMs;
      oldest = rows[first]
    ) {
      sum -= oldest.count;
      first += 1;
    }
    most = Math.max(most, sum);
    if (sum >= rule.threshold && row.toMs >= sinceMs) isTripped = true;
    if (sum * 2 >= rule.threshold) for (const alarm of rows.slice(first, index + 1)) evidence.add(alarm);
  }
  return { most, isTripped, evidence: [...evidence] };
}
