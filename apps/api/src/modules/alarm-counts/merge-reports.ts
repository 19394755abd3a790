import { groupBy } from '../../platform/group-by.js';
import { conflictKey, prevailingOf, type Conflict, type Report } from './prevailing-reports.js';

/** A report as it is stored, or about to be. */
export interface StoredReport extends Report {
  readonly customerId: string;
  readonly circuitId: string;
  readonly clampCycles: number;
  readonly alarms: string;
  readonly measures: string | null;
  readonly prevails: boolean;
}

/** A report that comes in: nobody has chosen it, and it prevails unless something speaks against it. */
export type IncomingReport = StoredReport & { readonly prevails: true; readonly chosenAtMs: null };

/** What a circuit's reports ask the database to do. */
export interface Changes {
  readonly insert: readonly StoredReport[];
  readonly update: readonly StoredReport[];
  readonly conflicts: readonly { key: string; conflict: Conflict<StoredReport> }[];
}

/** What a report says, without who sent it. */
export const contentKey = (report: Pick<Report, 'fromMs' | 'toMs' | 'revision' | 'numbersHash'>): string =>
  `${report.fromMs}/${report.toMs}/${report.revision}/${report.numbersHash}`;

const isSmaller = (a: Report, b: Report): boolean =>
  a.webhookId < b.webhookId || (a.webhookId === b.webhookId && a.sourceId < b.sourceId);

/**
 * Lays new reports of one circuit to those stored that they touch, directly or through others. The same report from several
 * deliveries is kept once, under the smallest delivery id, so that what is stored does not depend on who came first.
 */
export function mergeReports(stored: readonly StoredReport[], incoming: readonly IncomingReport[]): Changes {
  // By far the most: nothing there, and none into another.
  if (stored.length === 0 && areApart(incoming)) return { insert: incoming, update: [], conflicts: [] };
  return foldReports(stored, incoming);
}

/** Do the intervals of one circuit lie side by side, none into another, in whatever order they come? */
export function areApart(reports: readonly IncomingReport[]): boolean {
  return isInRow(reports) || isInRow(reports.toSorted((a, b) => a.fromMs - b.fromMs));
}

function isInRow(reports: readonly IncomingReport[]): boolean {
  let endMs = -Infinity;
  for (const { fromMs, toMs } of reports) {
    if (fromMs < endMs) return false;
    endMs = toMs;
  }
  return true;
}

/** The whole of it, without a short cut. */
export function foldReports(stored: readonly StoredReport[], incoming: readonly IncomingReport[]): Changes {
  const before = new Map(stored.map((report) => [contentKey(report), report]));
  const merged = new Map<string, StoredReport>(before);
  for (const report of incoming) {
    const key = contentKey(report);
    const there = merged.get(key);
    if (there === undefined) merged.set(key, report);
    else if (isSmaller(report, there)) {
      merged.set(key, { ...there, webhookId: report.webhookId, sourceId: report.sourceId });
    }
  }
  const { prevailing, conflicts } = prevailingOf([...merged.values()]);
  const insert: StoredReport[] = [];
  const update: StoredReport[] = [];
  for (const [key, report] of merged) {
    const now = prevailing.has(report) === report.prevails ? report : { ...report, prevails: prevailing.has(report) };
    const was = before.get(key);
    if (was === undefined) insert.push(now);
    else if (was !== now) update.push(now);
  }
  return {
    insert,
    update,
    conflicts: conflicts.map((conflict) => ({
      key: conflictKey(conflict.reports[0]?.circuitId ?? '', conflict),
      conflict,
    })),
  };
}

export interface Range {
  readonly circuitId: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** The stretches that intervals cover, per circuit; what touches is one stretch. */
export function rangesOf(intervals: Iterable<Range>): Range[] {
  const ranges: Range[] = [];
  for (const list of groupBy(intervals, ({ circuitId }) => circuitId).values()) {
    list.sort((a, b) => a.fromMs - b.fromMs);
    let last: { circuitId: string; fromMs: number; toMs: number } | undefined;
    for (const { circuitId, fromMs, toMs } of list) {
      if (last !== undefined && fromMs <= last.toMs) last.toMs = Math.max(last.toMs, toMs);
      else ranges.push((last = { circuitId, fromMs, toMs }));
    }
  }
  return ranges;
}
