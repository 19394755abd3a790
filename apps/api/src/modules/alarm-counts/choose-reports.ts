import type { Contender } from '@repo/contracts';
import { lockCircuits, updateReports } from './counts.repository.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { contentKey, type StoredReport } from './merge-reports.js';
import { readTouched } from './read-touched.js';
import { prevailingOf } from './prevailing-reports.js';

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
