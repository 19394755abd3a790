import { listOverlapping } from './counts.repository.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { contentKey, rangesOf, type Range, type StoredReport } from './merge-reports.js';

const isEqual = (a: Range, b: Range | undefined): boolean =>
  a.circuitId === b?.circuitId && a.fromMs === b.fromMs && a.toMs === b.toMs;

/** Everything that is stored and overlaps the intervals, directly or through others. Hold the circuits' locks before. */
export async function readTouched(
  sql: SqlTransaction,
  organisationId: string,
  intervals: readonly Range[],
): Promise<StoredReport[]> {
  let ranges = rangesOf(intervals);
  for (;;) {
    const stored = await listOverlapping(sql, organisationId, ranges);
    const wider = rangesOf([...ranges, ...stored]);
    if (wider.length === ranges.length && wider.every((one, index) => isEqual(one, ranges[index]))) {
      // Two stretches may have found the same report.
      return [...new Map(stored.map((report) => [`${report.circuitId} ${contentKey(report)}`, report])).values()];
    }
    ranges = wider;
  }
}
