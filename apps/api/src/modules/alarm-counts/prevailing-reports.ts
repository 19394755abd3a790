import { createHash } from 'node:crypto';
import { groupBy } from '../../platform/group-by.js';

/** A report of one circuit's counts, as far as it bears on which reports prevail. */
export interface Report {
  readonly fromMs: number;
  readonly toMs: number;
  readonly revision: number;
  /** tells reports of the same revision with other numbers apart */
  readonly numbersHash: string;
  readonly webhookId: string;
  readonly sourceId: string;
  /** when a person chose it; null for most */
  readonly chosenAtMs: number | null;
}

/** So many contradictions between the same deliveries, or in one stretch, are told one by one; more of them are one. */
const MOST_APART = 20;

/** Reports that contradict each other. */
export interface Conflict<R extends Report> {
  /**
   * `same-revision`: one revision of one interval with different numbers; superseded once a higher revision is there.
   * `overlap`: two intervals that overlap and are not the same; the reports are what either side has to say now.
   */
  readonly kind: 'same-revision' | 'overlap';
  readonly reports: readonly R[];
  readonly isSuperseded: boolean;
  /** stands for many of its kind: those between the same deliveries, or of a stretch in which each interval overlaps another */
  readonly isMany: boolean;
}

export interface Prevailing<R extends Report> {
  readonly prevailing: ReadonlySet<R>;
  readonly conflicts: readonly Conflict<R>[];
}

const compare = (a: string | number, b: string | number): number => (a < b ? -1 : a > b ? 1 : 0);

/** Whose word counts first: the delivery with the smaller id; the rest only makes the order total. */
function byDelivery(a: Report, b: Report): number {
  return (
    compare(a.webhookId, b.webhookId) ||
    compare(a.sourceId, b.sourceId) ||
    compare(a.fromMs, b.fromMs) ||
    compare(a.toMs, b.toMs) ||
    compare(a.numbersHash, b.numbersHash)
  );
}

/** What a person chose goes first, the latest choice before earlier ones. */
const byChoice = (a: number | null, b: number | null): number => compare(b ?? -Infinity, a ?? -Infinity);

interface Candidate<R extends Report> {
  readonly report: R;
  /** a choice holds for the interval, whatever is revised in it later */
  readonly chosenAtMs: number | null;
}

function latestChoice(reports: readonly Report[]): number | null {
  let latest: number | null = null;
  for (const { chosenAtMs } of reports)
    if (chosenAtMs !== null && chosenAtMs > (latest ?? -Infinity)) latest = chosenAtMs;
  return latest;
}

/** Intervals that prevail never overlap, so only the neighbours of a place need a look. */
class Taken {
  private readonly intervals: { fromMs: number; toMs: number }[] = [];

  /** Takes the interval if nothing overlaps it. */
  take(fromMs: number, toMs: number): boolean {
    let low = 0;
    let high = this.intervals.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((this.intervals[middle]?.fromMs ?? Infinity) < fromMs) low = middle + 1;
      else high = middle;
    }
    const before = this.intervals[low - 1];
    const after = this.intervals[low];
    if ((before !== undefined && before.toMs > fromMs) || (after !== undefined && after.fromMs < toMs)) return false;
    this.intervals.splice(low, 0, { fromMs, toMs });
    return true;
  }
}

/**
 * Which reports of one circuit prevail, from the set of all reports and nothing else: the order of arrival never matters.
 *
 * 1. For each interval [from, to) the highest revision is the candidate; between different numbers of that revision the one that
 *    a person chose, else the one of the delivery with the smaller id.
 * 2. Candidates by choice (latest first), then by delivery id; each prevails if it overlaps none that prevails already.
 *
 * Reports that touch no other may be left out without changing whether the others prevail: only what overlaps, directly or through
 * others, has to be folded together. Every report must be another one (interval, revision, numbers).
 */
export function prevailingOf<R extends Report>(reports: readonly R[]): Prevailing<R> {
  const revisions: Conflict<R>[] = [];
  const candidates: Candidate<R>[] = [];
  for (const group of groupBy(reports, (report) => `${report.fromMs}/${report.toMs}`).values()) {
    const highest = group.reduce((most, report) => Math.max(most, report.revision), -1);
    for (const same of groupBy(group, (report) => report.revision).values()) {
      same.sort((a, b) => byChoice(a.chosenAtMs, b.chosenAtMs) || byDelivery(a, b));
      const [first] = same;
      if (first === undefined) continue;
      const isHighest = first.revision === highest;
      if (same.length > 1) {
        const reports = [...same].sort(byDelivery);
        revisions.push({ kind: 'same-revision', reports, isSuperseded: !isHighest, isMany: false });
      }
      if (isHighest) candidates.push({ report: first, chosenAtMs: latestChoice(group) });
    }
  }
  const conflicts = [...gatherRevisions(revisions), ...overlapsOf(candidates.map(({ report }) => report))];
  candidates.sort((a, b) => byChoice(a.chosenAtMs, b.chosenAtMs) || byDelivery(a.report, b.report));
  const taken = new Taken();
  const prevailing = new Set<R>();
  for (const { report } of candidates) if (taken.take(report.fromMs, report.toMs)) prevailing.add(report);
  return { prevailing, conflicts };
}

const sideOf = ({ sourceId, webhookId }: Report): string => `${sourceId} ${webhookId}`;

/** The deliveries that a conflict is between. */
export const sidesOf = (reports: readonly Report[]): string[] => [...new Set(reports.map(sideOf))].sort();

function gatherRevisions<R extends Report>(conflicts: readonly Conflict<R>[]): Conflict<R>[] {
  if (conflicts.length <= MOST_APART) return [...conflicts];
  const between = groupBy(conflicts, ({ reports, isSuperseded }) => `${isSuperseded} ${sidesOf(reports).join('\n')}`);
  return [...between.values()].flatMap((alike) => {
    const [first] = alike;
    if (first === undefined || alike.length <= MOST_APART) return alike;
    const reports = alike.flatMap((one) => one.reports).sort((a, b) => compare(a.fromMs, b.fromMs) || byDelivery(a, b));
    return [{ ...first, reports, isMany: true }];
  });
}

/**
 * Pairs of intervals that overlap, stretch by stretch. Of a stretch with many pairs, all that lie in it: their number grows with the
 * square of the intervals, and is not counted out.
 */
function overlapsOf<R extends Report>(candidates: readonly R[]): Conflict<R>[] {
  const sorted = [...candidates].sort((a, b) => compare(a.fromMs, b.fromMs) || compare(a.toMs, b.toMs));
  const found: Conflict<R>[] = [];
  let stretch: R[] = [];
  let endMs = -Infinity;
  for (const report of sorted) {
    if (report.fromMs >= endMs) {
      found.push(...overlapsIn(stretch));
      stretch = [];
    }
    stretch.push(report);
    endMs = Math.max(endMs, report.toMs);
  }
  return [...found, ...overlapsIn(stretch)];
}

/** Of intervals that hang together, in their order. */
function overlapsIn<R extends Report>(stretch: readonly R[]): Conflict<R>[] {
  const found: Conflict<R>[] = [];
  for (const [index, report] of stretch.entries()) {
    for (let next = index + 1; next < stretch.length; next += 1) {
      const other = stretch[next];
      if (other === undefined || other.fromMs >= report.toMs) break;
      if (found.length === MOST_APART)
        return [{ kind: 'overlap', reports: stretch, isSuperseded: false, isMany: true }];
      found.push({ kind: 'overlap', reports: [report, other], isSuperseded: false, isMany: false });
    }
  }
  return found;
}

/** What a conflict is known by: intervals and revision, or, of many, where they begin or whom they are between; never who came first. */
export function conflictKey(circuitId: string, { kind, reports, isMany }: Conflict<Report>): string {
  const [first, second] = reports;
  if (first === undefined || second === undefined) throw new Error('a conflict has two sides');
  if (kind === 'same-revision') {
    return isMany
      ? `same-revision ${circuitId} together ${createHash('sha256').update(sidesOf(reports).join('\n')).digest('hex')}`
      : `same-revision ${circuitId} ${first.fromMs} ${first.toMs} ${first.revision}`;
  }
  return isMany
    ? `overlap ${circuitId} together ${first.fromMs}`
    : `overlap ${circuitId} ${first.fromMs} ${first.toMs} ${second.fromMs} ${second.toMs}`;
}
