import type { Contender } from '@repo/contracts';
import { groupBy } from '../../platform/group-by.js';
import { listOverlapping, lockCircuits, updateReports } from './counts.repository.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { contentKey, type StoredReport } from './merge-reports.js';
import { readTouched } from './read-touched.js';
import { prevailingOf, sidesOf } from './prevailing-reports.js';

/**
 * The reports of one circuit in a stretch that contradict each other in one way: all of a stretch of overlaps, or those with other
 * numbers between the same deliveries.
 */
export async function reportsIn(
  sql: SqlTransaction,
  organisationId: string,
  circuitId: string,
  many: { kind: 'same-revision' | 'overlap'; sides: readonly string[]; stretch: { from: string; to: string } },
): Promise<StoredReport[]> {
  const [fromMs, toMs] = [Date.parse(many.stretch.from), Date.parse(many.stretch.to)];
  const stored = await listOverlapping(sql, organisationId, [{ circuitId, fromMs, toMs }]);
  const within = stored.filter((report) => report.fromMs >= fromMs && report.toMs <= toMs);
  if (many.kind === 'overlap') return within;
  return [...groupBy(within, toRevision).values()]
    .filter((same) => same.length > 1 && many.sides.every((side) => sidesOf(same).includes(side)))
    .flat();
}

const toRevision = ({ fromMs, toMs, revision }: StoredReport): string => `${fromMs}/${toMs}/${revision}`;

/** Of reports that contradict each other interval by interval: those of intervals in which nobody chose, before or now. */
export const withoutDecided = (reports: readonly StoredReport[], chosen: readonly StoredReport[]): StoredReport[] =>
  [...groupBy(reports, toRevision).values()]
    .filter((same) => same.every((report) => report.chosenAtMs === null && !chosen.includes(report)))
    .flat();

/** Marks reports of one circuit as chosen and lets everything that they touch find anew whether it prevails; what changed. */
export async function chooseReports(
  sql: SqlTransaction,
  organisationId: string,
  circuitId: string,
  chosen: readonly Pick<Contender, 'from' | 'to' | 'revision' | 'numbersHash'>[],
  nowMs: number,
): Promise<StoredReport[]> {
  const wanted = new Set(
    chosen.map((one) =>
      contentKey({
        fromMs: Date.parse(one.from),
        toMs: Date.parse(one.to),
        revision: one.revision,
        numbersHash: one.numbersHash,
      }),
    ),
  );
  await lockCircuits(sql, [circuitId]);
  const stored = await readTouched(
    sql,
    organisationId,
    chosen.map(({ from, to }) => ({ circuitId, fromMs: Date.parse(from), toMs: Date.parse(to) })),
  );
  const reports = stored.map((report) => (wanted.has(contentKey(report)) ? { ...report, chosenAtMs: nowMs } : report));
  const { prevailing } = prevailingOf(reports);
  const before = new Set<StoredReport>(stored);
  const changed = reports
    .filter((report) => !before.has(report) || report.prevails !== prevailing.has(report))
    .map((report) => ({ ...report, prevails: prevailing.has(report) }));
  await updateReports(sql, organisationId, changed);
  return changed;
}
