import type { AlarmEvidence } from '@repo/contracts';
import { isOfAlarms, issueEvidence } from '../../documents/issue-evidence.js';
import { iso } from '../../platform/clock/iso.js';
import type { CountedInterval, Range } from '../alarm-counts/index.js';
import { applyRule } from './alarm-rule.js';
import type { EffectiveRule } from './effective-rules.repository.js';

/** Of an issue's evidence so many intervals are kept, the latest. */
const MOST_EVIDENCE = 500;

/** Where a change of these intervals can make a window fuller. */
export function reachOf(rule: EffectiveRule, changed: readonly Range[]): Range {
  const windowMs = rule.windowS * 1000;
  return {
    circuitId: rule.circuitId,
    fromMs: Math.min(...changed.map(({ fromMs }) => fromMs)) - windowMs,
    toMs: Math.max(...changed.map(({ toMs }) => toMs)) + windowMs,
  };
}

const countOf = (alarms: Record<string, number>, kind: string | null): number =>
  kind === null ? Object.values(alarms).reduce((sum, one) => sum + one, 0) : (alarms[kind] ?? 0);

/** What a rule looks at on one circuit. */
export interface Looked {
  readonly rule: EffectiveRule;
  readonly reach: Range;
  /** within reach */
  readonly counts: readonly CountedInterval[];
}

export interface Gathered {
  readonly evidence: AlarmEvidence;
  /** the most within a window of those looked at now */
  readonly most: number;
  /** the source that reported last */
  readonly sourceId: string;
}

/**
 * The evidence of a circuit's issue: for one that is open what it had and what is added, otherwise null unless the rule trips.
 * @param open the issue that is open, with its evidence as it is stored
 */
export function gatherEvidence(
  { rule, reach, counts }: Looked,
  open: { readonly evidence: unknown } | null,
  closedAtMs: number | null,
): Gathered | null {
  const counted = counts.map((one) => ({ ...one, count: countOf(one.alarms, rule.alarmKind) }));
  const seen = applyRule({ threshold: rule.threshold, windowMs: rule.windowS * 1000 }, counted, closedAtMs);
  if (open === null && !seen.isTripped) return null;
  const stored = open === null ? null : issueEvidence.readOrNull(open.evidence);
  const before = isOfAlarms(stored) ? stored : undefined;
  const fresh = seen.evidence.map((one) => ({
    from: iso(one.fromMs),
    to: iso(one.toMs),
    count: one.count,
    sourceId: one.sourceId,
  }));
  // Within reach the evidence is what prevails now; beyond it, what was found before.
  const kept = (before?.intervals ?? []).filter(
    (one) => Date.parse(one.to) <= reach.fromMs || Date.parse(one.from) >= reach.toMs,
  );
  const intervals = [...kept, ...fresh].sort((a, b) => (a.from < b.from ? -1 : 1)).slice(-MOST_EVIDENCE);
  const evidence: AlarmEvidence = {
    rule: before?.rule ?? { alarmKind: rule.alarmKind, threshold: rule.threshold, windowS: rule.windowS },
    total: intervals.reduce((sum, one) => sum + one.count, 0),
    most: Math.max(seen.most, before?.most ?? 0),
    intervals,
  };
  return { evidence, most: seen.most, sourceId: fresh.at(-1)?.sourceId ?? '' };
}
