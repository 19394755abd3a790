import { iso } from '../../platform/clock/iso.js';
import { columns, type SqlTransaction } from '../../platform/sql/sql-transaction.js';

export interface Receipt {
  readonly id: string;
  readonly sourceId: string;
  readonly webhookId: string;
  readonly bodySha256: Buffer;
  readonly sentAtMs: number;
  /** intervals taken in, and those set aside */
  readonly intervals: number;
  readonly setAside: number;
}

export const receiptKey = (sourceId: string, webhookId: string): string => `${sourceId} ${webhookId}`;

/** Writes the receipts that are new, in the order that everybody keeps to; the keys of those. Waits for a twin elsewhere. */
export async function insertReceipts(
  sql: SqlTransaction,
  organisationId: string,
  receipts: readonly Receipt[],
): Promise<Set<string>> {
  const rows = await sql.rows<{ source_id: string; webhook_id: string }>(
    `INSERT INTO deliveries (organisation_id, id, source_id, webhook_id, body_sha256, sent_at, intervals,
                             set_aside, state)
     SELECT $1::uuid, r.id, r.source_id, r.webhook_id, decode(r.sha, 'hex'), r.sent_at, r.intervals, r.set_aside,
            CASE WHEN r.set_aside = 0 THEN 'taken-in' ELSE 'in-part' END
     FROM unnest($2::uuid[], $3::uuid[], $4::text[], $5::text[], $6::timestamptz[], $7::int[], $8::int[])
       AS r (id, source_id, webhook_id, sha, sent_at, intervals, set_aside)
     ORDER BY r.source_id, r.webhook_id COLLATE "C"
     ON CONFLICT (organisation_id, source_id, webhook_id) DO NOTHING RETURNING source_id, webhook_id`,
    [
      organisationId,
      ...columns(
        receipts,
        (receipt) => receipt.id,
        (receipt) => receipt.sourceId,
        (receipt) => receipt.webhookId,
        (receipt) => receipt.bodySha256.toString('hex'),
        (receipt) => iso(receipt.sentAtMs),
        (receipt) => receipt.intervals,
        (receipt) => receipt.setAside,
      ),
    ],
  );
  return new Set(rows.map((row) => receiptKey(row.source_id, row.webhook_id)));
}

/** SHA-256 of the bodies that came first, by key. */
export async function readHashes(
  sql: SqlTransaction,
  organisationId: string,
  receipts: readonly Receipt[],
): Promise<Map<string, string>> {
  const rows = await sql.rows<{ source_id: string; webhook_id: string; sha: string }>(
    `SELECT d.source_id, d.webhook_id, encode(d.body_sha256, 'hex') AS sha
     FROM unnest($2::uuid[], $3::text[]) AS r (source_id, webhook_id)
     JOIN deliveries d ON d.organisation_id = $1::uuid AND d.source_id = r.source_id AND d.webhook_id = r.webhook_id`,
    [
      organisationId,
      ...columns(
        receipts,
        (receipt) => receipt.sourceId,
        (receipt) => receipt.webhookId,
      ),
    ],
  );
  return new Map(rows.map((row) => [receiptKey(row.source_id, row.webhook_id), row.sha]));
}

/** Which of the sources are archived, as it is now. */
export async function listArchived(
  sql: SqlTransaction,
  organisationId: string,
  deliveries: readonly { sourceId: string }[],
): Promise<Set<string>> {
  const rows = await sql.rows<{ id: string }>(
    'SELECT id FROM sources WHERE organisation_id = $1::uuid AND id = ANY ($2::uuid[]) AND archived_at IS NOT NULL',
    [organisationId, [...new Set(deliveries.map(({ sourceId }) => sourceId))]],
  );
  return new Set(rows.map(({ id }) => id));
}

/** When each source was heard, and how far its clock is off. Last in its transaction: everybody of the source waits here. */
export async function markHeard(
  sql: SqlTransaction,
  organisationId: string,
  heard: readonly { sourceId: string; clockOffsetS: number }[],
): Promise<void> {
  await sql.rows(
    `UPDATE sources s SET last_heard_at = now(), clock_offset_s = u.clock_offset_s
     FROM (SELECT k.id, r.clock_offset_s FROM unnest($2::uuid[], $3::float8[]) AS r (id, clock_offset_s)
           JOIN sources k ON k.organisation_id = $1::uuid AND k.id = r.id ORDER BY k.id FOR NO KEY UPDATE OF k) u
     WHERE s.organisation_id = $1::uuid AND s.id = u.id`,
    [
      organisationId,
      ...columns(
        heard,
        (one) => one.sourceId,
        (one) => one.clockOffsetS,
      ),
    ],
  );
}

/** One of each source, the last. */
export const latestPerSource = (
  deliveries: readonly { sourceId: string; clockOffsetS: number }[],
): { sourceId: string; clockOffsetS: number }[] => [
  ...new Map(deliveries.map(({ sourceId, clockOffsetS }) => [sourceId, { sourceId, clockOffsetS }])).values(),
];
