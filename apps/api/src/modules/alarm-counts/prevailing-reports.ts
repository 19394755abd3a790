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

/** Reports that contradict each other. */
export type Conflict<R extends Report> =
  /** one revision of one interval with different numbers; superseded once a higher revision is there */
  | { readonly kind: 'same-revision'; readonly reports: readonly R[]; readonly isSuperseded: boolean }
  /** two intervals that overlap and are not the same; the reports are what either side has to say now */
  | { readonly kind: 'overlap'; readonly reports: readonly [R, R]; readonly isSuperseded: false };

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
  const conflicts: Conflict<R>[] = [];
  const candidates: Candidate<R>[] = [];
  for (const group of groupBy(reports, (report) => `${report.fromMs}/${report.toMs}`).values()) {
    const highest = group.reduce((most, report) => Math.max(most, report.revision), -1);
    for (const same of groupBy(group, (report) => report.revision).values()) {
      same.sort((a, b) => byChoice(a.chosenAtMs, b.chosenAtMs) || byDelivery(a, b));
      const [first] = same;
      if (first === undefined) continue;
      const isHighest = first.revision === highest;
      if (same.length > 1) {
        conflicts.push({ kind: 'same-revision', reports: [...same].sort(byDelivery), isSuperseded: !isHighest });
      }
      if (isHighest) candidates.push({ report: first, chosenAtMs: latestChoice(group) });
    }
  }
  conflicts.push(...overlapsOf(candidates.map(({ report }) => report)));
  candidates.sort((a, b) => byChoice(a.chosenAtMs, b.chosenAtMs) || byDelivery(a.report, b.report));
  const taken = new Taken();
  const prevailing = new Set<R>();
  for (const { report } of candidates) if (taken.take(report.fromMs, report.toMs)) prevailing.add(report);
  return { prevailing, conflicts };
}

/** Every pair of intervals that overlap. */
function overlapsOf<R extends Report>(candidates: readonly R[]): Conflict<R>[] {
  const sorted = [...candidates].sort((a, b) => compare(a.fromMs, b.fromMs) || compare(a.toMs, b.toMs));
  const found: Conflict<R>[] = [];
  for (const [index, report] of sorted.entries()) {
    for (let next = index + 1; next < sorted.length; next += 1) {
      const other = sorted[next];
      if (other === undefined || other.fromMs >= report.toMs) break;
      found.push({ kind: 'overlap', reports: [report, other], isSuperseded: false });
    }
  }
  return found;
}

/** What a conflict is known by: intervals and revision, never who came first. */
export function conflictKey(circuitId: string, conflict: Conflict<Report>): string {
  const [first, second] = conflict.reports;
  if (first === undefined || second === undefined) throw new Error('a conflict has two sides');
  return conflict.kind === 'same-revision'
    ? `same-revision ${circuitId} ${first.fromMs} ${first.toMs} ${first.revision}`
    : `overlap ${circuitId} ${first.fromMs} ${first.toMs} ${second.fromMs} ${second.toMs}`;
}
