import { groupBy } from '../../platform/group-by.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import {
  insertReports,
  lockCircuits,
  mergeReports,
  readTouched,
  sidesOf,
  tellMany,
  toContender,
  updateReports,
  type Changes,
  type IncomingReport,
  type StoredReport,
} from '../alarm-counts/index.js';
import { upsertFindings, type NewFinding } from '../findings/index.js';

function conflictFindings(changes: Changes): NewFinding[] {
  return changes.conflicts.map(({ key, conflict }) => {
    const { kind, reports, isMany, isSuperseded } = conflict;
    const [first] = reports;
    if (first === undefined) throw new Error('a conflict has two sides');
    // Its source is that of the smallest delivery of all sides: the same, whoever came first.
    const owner = reports.reduce((least, one) => (one.webhookId < least.webhookId ? one : least), first);
    return {
      key,
      kind,
      sourceId: owner.sourceId,
      webhookId: owner.webhookId,
      subject: first.circuitId,
      circuitId: first.circuitId,
      detail: isMany ? tellMany(reports) : { contenders: reports.map(toContender) },
      isSuperseded,
      sides: new Set(sidesOf(reports)),
    };
  });
}

/** What reports that come in change, circuit by circuit. */
export function foldIn(stored: readonly StoredReport[], incoming: readonly IncomingReport[]) {
  const byCircuit = groupBy(incoming, (report) => report.circuitId);
  const there = groupBy(stored, (report) => report.circuitId);
  const insert: StoredReport[] = [];
  const update: StoredReport[] = [];
  const findings: NewFinding[] = [];
  for (const [circuitId, reports] of byCircuit) {
    const changes = mergeReports(there.get(circuitId) ?? [], reports);
    insert.push(...changes.insert);
    update.push(...changes.update);
    findings.push(...conflictFindings(changes));
  }
  return { insert, update, findings };
}

/**
 * Lays reports to what is stored, for all circuits of one organisation; those that came to prevail, or no longer do. The caller's
 * transaction holds the circuits' locks on.
 */
export async function writeReports(
  sql: SqlTransaction,
  organisationId: string,
  incoming: readonly IncomingReport[],
): Promise<readonly StoredReport[]> {
  if (incoming.length === 0) return [];
  await lockCircuits(sql, [...new Set(incoming.map(({ circuitId }) => circuitId))]);
  const { insert, update, findings } = foldIn(await readTouched(sql, organisationId, incoming), incoming);
  await insertReports(sql, organisationId, insert);
  await updateReports(sql, organisationId, update);
  await upsertFindings(sql, organisationId, findings);
  return [...insert, ...update];
}
