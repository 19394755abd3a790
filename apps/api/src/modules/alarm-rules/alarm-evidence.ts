import type { AlarmEvidence } from '@repo/contracts';
import { isOfAlarms, issueEvidence } from '../../documents/issue-evidence.js';
import { iso } from '../../platform/clock/iso.js';
import type { CountedInterval, Range } from '../alarm-counts/index.js';
import { applyRule } from './alarm-rule.js';
import type { EffectiveRule } from './effective-rules.repository.js';

/** Of an issue's evidence so many intervals are kept, the latest. */
const MOST_EVIDENCE = 500;

/** What a change of these intervals bears on, and what has to be seen to judge that. */
export interface Reach {
  /** whose evidence the change can make or unmake: a window to either side */
  readonly judged: Range;
  /** the windows of those, to their ends: one window further */
  readonly seen: Range;
}

export function reachOf(rule: EffectiveRule, changed: readonly Range[]): Reach {
  const windowMs = rule.windowS * 1000;
  const [fromMs, toMs] = [Math.min(...changed.map((one) => one.fromMs)), Math.max(...changed.map((one) => one.toMs))];
  const around = (windows: number): Range => ({
    circuitId: rule.circuitId,
    fromMs: fromMs - windows * windowMs,
    toMs: toMs + windows * windowMs,
  });
  return { judged: around(1), seen: around(2) };
}

const countOf = (alarms: Record<string, number>, kind: string | null): number =>
  kind === null ? Object.values(alarms).reduce((sum, one) => sum + one, 0) : (alarms[kind] ?? 0);

/** What a rule looks at on one circuit. */
export interface Looked {
  readonly rule: EffectiveRule;
  readonly reach: Reach;
  /** when the change came in */
  readonly receivedMs: number;
  /** of all that is seen */
  readonly counts: readonly CountedInterval[];
}

export interface Gathered {
  readonly evidence: AlarmEvidence;
  /** the most within a window of those seen now */
  readonly most: number;
  /** the source that reported last */
  readonly sourceId: string;
}

/**
 * The evidence of a circuit's issue: for one that is open what it had and what is added, otherwise null unless the rule trips.
 * @param open the issue that is open, with its evidence as it is stored
 */
export function gatherEvidence(
  { rule, reach: { judged }, receivedMs, counts }: Looked,
  open: { readonly evidence: unknown } | null,
  closedAtMs: number | null,
): Gathered | null {
  const counted = counts.map((one) => ({ ...one, count: countOf(one.alarms, rule.alarmKind) }));
  const windowMs = rule.windowS * 1000;
  // What ended longer ago than the window before it was received is history: it opens nothing.
  const since = { closedAtMs, sinceMs: receivedMs - windowMs };
  const seen = applyRule({ threshold: rule.threshold, windowMs }, counted, since);
  if (open === null && !seen.isTripped) return null;
  const stored = open === null ? null : issueEvidence.readOrNull(open.evidence);
  const before = isOfAlarms(stored) ? stored : undefined;
  const isJudged = (fromMs: number, toMs: number): boolean => toMs > judged.fromMs && fromMs < judged.toMs;
  const fresh = seen.evidence
    .filter((one) => isJudged(one.fromMs, one.toMs))
    .map((one) => ({ from: iso(one.fromMs), to: iso(one.toMs), count: one.count, sourceId: one.sourceId }));
  // Within reach the evidence is what prevails now; beyond it, what was found before.
  const kept = (before?.intervals ?? []).filter((one) => !isJudged(Date.parse(one.from), Date.parse(one.to)));
  const intervals = [...kept, ...fresh].sort((a, b) => (a.from < b.from ? -1 : 1)).slice(-MOST_EVIDENCE);
  // A revision may have taken the fullest window away: it is looked for anew, in the evidence that is left.
  const ruled = before?.rule ?? { alarmKind: rule.alarmKind, threshold: rule.threshold, windowS: rule.windowS };
  const evidence: AlarmEvidence = {
    rule: ruled,
    total: intervals.reduce((sum, one) => sum + one.count, 0),
    most: mostWithin(ruled.windowS * 1000, intervals),
    intervals,
  };
  return { evidence, most: seen.most, sourceId: fresh.at(-1)?.sourceId ?? '' };
}

const mostWithin = (windowMs: number, intervals: AlarmEvidence['intervals']): number =>
  applyRule(
    { threshold: 1, windowMs },
    intervals.map(({ from, to, count }) => ({ fromMs: Date.parse(from), toMs: Date.parse(to), count })),
  ).most;
