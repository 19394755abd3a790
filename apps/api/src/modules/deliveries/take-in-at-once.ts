import { groupBy } from '../../platform/group-by.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import {
  areApart,
  insertReports,
  listOverlapping,
  lockCircuits,
  rangesOf,
  type IncomingReport,
} from '../alarm-counts/index.js';
import { upsertFindings } from '../findings/index.js';
import { isSame, readMachines, type Machines } from './known-machines.js';
import { placeFirsts, type Placed } from './place-reports.js';
import { insertReceipts, latestPerSource, listArchived, markHeard } from './receipts.repository.js';
import { outcomeOf, type GatewayRules, type OfOrganisation, type Outcome } from './take-in.js';

/** Deliveries of one organisation, placed on what was known of their machines a moment ago. */
export interface AtOnce extends OfOrganisation {
  readonly remembered: Machines;
  readonly placed: readonly Placed[];
  readonly reports: readonly IncomingReport[];
}

/** null when they cannot be taken in at once: one is there twice, nothing of them is placed, or intervals reach into each other. */
export function placeAtOnce(group: OfOrganisation, remembered: Machines): AtOnce | null {
  const placed = [...placeFirsts(group.deliveries, remembered).values()];
  const reports = placed.flatMap((one) => one.reports);
  if (placed.length < group.deliveries.length || reports.length === 0) return null;
  const byCircuit = groupBy(reports, ({ circuitId }) => circuitId);
  return [...byCircuit.values()].every(areApart) ? { ...group, remembered, placed, reports } : null;
}

/**
 * Takes deliveries in with everything sent together, before any answer. It is right if the answers say that the machines are still
 * as they were remembered, that every source is in use and every delivery new, and that nothing was stored where these reports go, which is so for by
 * far the most. Otherwise null: the caller takes the transaction back and goes step by step.
 */
export async function takeInAtOnce(
  sql: SqlTransaction,
  { organisationId, deliveries, unheard, remembered, placed, reports }: AtOnce,
  rules: GatewayRules,
): Promise<Outcome[] | null> {
  const ranges = rangesOf(reports);
  // In this order: the locks before the look at what is stored, that look before the insert.
  const [machines, archived, , fresh, stored, found] = await Promise.all([
    readMachines(sql, organisationId, deliveries),
    listArchived(sql, organisationId, deliveries),
    lockCircuits(sql, [...new Set(reports.map(({ circuitId }) => circuitId))]),
    insertReceipts(
      sql,
      organisationId,
      placed.map(({ receipt }) => receipt),
    ),
    listOverlapping(sql, organisationId, ranges),
    rules.listRules(sql, organisationId, reports),
    insertReports(sql, organisationId, reports, ranges),
    upsertFindings(
      sql,
      organisationId,
      placed.flatMap(({ findings }) => findings),
    ),
    unheard.length === 0 ? undefined : markHeard(sql, organisationId, latestPerSource(unheard)),
  ]);
  if (archived.size > 0 || stored.length > 0 || fresh.size < placed.length || !isSame(machines, remembered))
    return null;
  if (found.length > 0) await rules.apply(sql, organisationId, reports, found);
  return placed.map((one) => outcomeOf(one));
}
