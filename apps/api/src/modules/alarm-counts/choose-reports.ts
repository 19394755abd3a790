import type { Contender } from '@repo/contracts';
import { lockCircuits, updateReports } from './counts.repository.js';
import type { CountsSql } from './counts-sql.js';
import { contentKey, type StoredReport } from './merge-reports.js';
import { readTouched } from './read-touched.js';
import { standingOf } from './standing.js';

/** Marks reports of one circuit as chosen and lets everything that they touch find its standing anew; what changed. */
export async function chooseReports(
  sql: CountsSql,
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
  const { stands } = standingOf(reports);
  const before = new Set<StoredReport>(stored);
  const changed = reports
    .filter((report) => !before.has(report) || report.stands !== stands.has(report))
    .map((report) => ({ ...report, stands: stands.has(report) }));
  await updateReports(sql, organisationId, changed);
  return changed;
}
