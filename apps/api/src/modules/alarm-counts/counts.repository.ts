import { reportedAlarms } from './count-documents.js';
import { reachingInto } from './counts-reaching.js';
import { iso } from '../../platform/clock/iso.js';
import { columns, type SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { Range, StoredReport } from './merge-reports.js';

/** Circuits share these many locks: a delivery of any size takes no more than so many of the server's. */
const STRIPES = 256;
const LOCK_SPACE = 4807;

interface ReportRow {
  customer_id: string;
  circuit_id: string;
  source_id: string;
  webhook_id: string;
  from_at: Date;
  to_at: Date;
  revision: number;
  numbers_hash: string;
  clamp_cycles: number;
  alarms: string;
  measures: string | null;
  prevails: boolean;
  chosen_at: Date | null;
}

const toReport = (row: ReportRow): StoredReport => ({
  customerId: row.customer_id,
  circuitId: row.circuit_id,
  sourceId: row.source_id,
  webhookId: row.webhook_id,
  fromMs: row.from_at.getTime(),
  toMs: row.to_at.getTime(),
  revision: row.revision,
  numbersHash: row.numbers_hash,
  clampCycles: row.clamp_cycles,
  alarms: row.alarms,
  measures: row.measures,
  prevails: row.prevails,
  chosenAtMs: row.chosen_at?.getTime() ?? null,
});

/** One writer at a time per circuit, whichever process; always in the same order, so that nobody waits crosswise. */
export async function lockCircuits(sql: SqlTransaction, circuitIds: readonly string[]): Promise<void> {
  await sql.rows(
    `SELECT count(pg_advisory_xact_lock(${LOCK_SPACE}, stripe)::text) FROM (
       SELECT DISTINCT (hashtextextended(id, 0) & ${STRIPES - 1})::int AS stripe FROM unnest($1::text[]) id ORDER BY 1) s`,
    [circuitIds],
  );
}

/** Reports that overlap one of the stretches. */
export async function listOverlapping(
  sql: SqlTransaction,
  organisationId: string,
  ranges: readonly Range[],
): Promise<StoredReport[]> {
  const reaching = reachingInto(organisationId, ranges);
  const rows = await sql.rows<ReportRow>(
    `SELECT a.customer_id, a.circuit_id, a.source_id, a.webhook_id, a.from_at, a.to_at, a.revision,
            a.numbers_hash::text AS numbers_hash, a.clamp_cycles, a.alarms::text AS alarms, a.measures::text AS measures,
            a.prevails, a.chosen_at
     ${reaching.from}`,
    reaching.values,
  );
  return rows.map(toReport);
}

/** Numbers the values of a column, each value once. */
function numbered<T>(rows: readonly T[], textOf: (row: T) => string): { values: string; at: (row: T) => number } {
  const places = new Map<string, number>();
  for (const row of rows) if (!places.has(textOf(row))) places.set(textOf(row), places.size + 1);
  const [values = '{}'] = columns([...places.keys()], (text) => text);
  return { values, at: (row) => places.get(textOf(row)) ?? 0 };
}

/** Values of the statement that writes reports. */
const OWN_VALUES = 17;

/**
 * Times cross as milliseconds, which are quicker to write and to read than texts, and exact for centuries; ids once each, and by their
 * number in every row.
 * @param onlyWhereNone nothing is written if something is stored in one of these stretches. Asked once: a conflict looked for row by row is a
 *   look into the key, and a mark in the log of the database, for each of them.
 */
export async function insertReports(
  sql: SqlTransaction,
  organisationId: string,
  reports: readonly StoredReport[],
  onlyWhereNone?: readonly Range[],
): Promise<void> {
  if (reports.length === 0) return;
  const stored = onlyWhereNone === undefined ? null : reachingInto(organisationId, onlyWhereNone, '', OWN_VALUES);
  const condition = stored === null ? '' : `WHERE NOT EXISTS (SELECT FROM (SELECT 1 ${stored.from}) s)`;
  const customers = numbered(reports, (report) => report.customerId);
  const circuits = numbered(reports, (report) => report.circuitId);
  const sources = numbered(reports, (report) => report.sourceId);
  const deliveries = numbered(reports, (report) => report.webhookId);
  // What is shorter than the others is nothing from there on.
  const measured = reports.some(({ measures }) => measures !== null) ? reports : [];
  const [measures] = columns(measured, (report) => report.measures);
  await sql.rows(
    `INSERT INTO alarm_counts (organisation_id, customer_id, circuit_id, source_id, webhook_id, from_at, to_at, revision,
                               clamp_cycles, alarms, measures, numbers_hash, prevails)
     SELECT $1::uuid, ($2::uuid[])[r.customer], ($3::uuid[])[r.circuit], ($4::uuid[])[r.source], ($14::text[])[r.delivery],
            to_timestamp(r.from_ms / 1000), to_timestamp(r.to_ms / 1000), r.revision, r.clamp_cycles, r.alarms, r.measures,
            r.numbers_hash, r.prevails
     FROM unnest($5::int[], $6::int[], $7::int[], $8::int[], $9::float8[], $10::float8[], $11::int[], $12::int[], $13::jsonb[],
                 $15::jsonb[], $16::bigint[], $17::bool[])
       AS r (customer, circuit, source, delivery, from_ms, to_ms, revision, clamp_cycles, alarms, measures, numbers_hash,
             prevails)
     ${condition}`,
    [
      organisationId,
      customers.values,
      circuits.values,
      sources.values,
      ...columns(
        reports,
        customers.at,
        circuits.at,
        sources.at,
        deliveries.at,
        (report) => report.fromMs,
        (report) => report.toMs,
        (report) => report.revision,
        (report) => report.clampCycles,
        (report) => report.alarms,
      ),
      deliveries.values,
      measures,
      ...columns(
        reports,
        (report) => report.numbersHash,
        (report) => report.prevails,
      ),
      ...(stored?.values.slice(1) ?? []),
    ],
  );
}

/** Writes which reports prevail, who sent them first by name, and what was chosen. */
export async function updateReports(
  sql: SqlTransaction,
  organisationId: string,
  reports: readonly StoredReport[],
): Promise<void> {
  if (reports.length === 0) return;
  await sql.rows(
    `UPDATE alarm_counts a SET webhook_id = u.webhook_id, source_id = u.source_id, prevails = u.prevails, chosen_at = u.chosen_at
     FROM unnest($2::uuid[], $3::timestamptz[], $4::timestamptz[], $5::int[], $6::bigint[], $7::text[], $8::uuid[], $9::bool[],
                 $10::timestamptz[])
       AS u (circuit_id, from_at, to_at, revision, numbers_hash, webhook_id, source_id, prevails, chosen_at)
     WHERE a.organisation_id = $1::uuid AND a.circuit_id = u.circuit_id AND a.from_at = u.from_at AND a.to_at = u.to_at
       AND a.revision = u.revision AND a.numbers_hash = u.numbers_hash
       AND a.from_at >= $11::timestamptz AND a.from_at <= $12::timestamptz`,
    [
      organisationId,
      ...columns(
        reports,
        (report) => report.circuitId,
        (report) => iso(report.fromMs),
        (report) => iso(report.toMs),
        (report) => report.revision,
        (report) => report.numbersHash,
        (report) => report.webhookId,
        (report) => report.sourceId,
        (report) => report.prevails,
        (report) => (report.chosenAtMs === null ? null : iso(report.chosenAtMs)),
      ),
      iso(Math.min(...reports.map(({ fromMs }) => fromMs))),
      iso(Math.max(...reports.map(({ fromMs }) => fromMs))),
    ],
  );
}

export interface CountedInterval {
  circuitId: string;
  sourceId: string;
  fromMs: number;
  toMs: number;
  alarms: Record<string, number>;
}

/** Reports that prevail and hold alarms, within stretches. */
export async function listAlarms(
  sql: SqlTransaction,
  organisationId: string,
  ranges: readonly Range[],
): Promise<CountedInterval[]> {
  const reaching = reachingInto(organisationId, ranges, `AND c.prevails AND c.alarms <> '{}'`);
  const rows = await sql.rows<Omit<CountedInterval, 'alarms'> & { alarms: unknown }>(
    `SELECT a.circuit_id AS "circuitId", a.source_id AS "sourceId", (extract(epoch FROM a.from_at) * 1000)::float8 AS "fromMs",
            (extract(epoch FROM a.to_at) * 1000)::float8 AS "toMs", a.alarms
     ${reaching.from}`,
    reaching.values,
  );
  return rows.map((row) => ({ ...row, alarms: reportedAlarms.read(row.alarms, row.circuitId) }));
}
