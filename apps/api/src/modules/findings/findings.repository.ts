import type { FindingKind } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { columns, type SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { FindingDetail } from './finding-detail.js';

export interface NewFinding {
  /** the same finding has the same key, whatever the order and however often it is found */
  readonly key: string;
  readonly kind: FindingKind;
  readonly sourceId: string;
  readonly webhookId: string;
  readonly subject: string;
  readonly circuitId: string | null;
  readonly detail: FindingDetail;
  readonly isSuperseded: boolean;
  /** of a contradiction: the deliveries that it is between, each as source and id */
  readonly sides?: ReadonlySet<string>;
}

const SUBJECTS = (row: string): string => `coalesce((${row}.detail ->> 'subjects')::int, 1)`;

/**
 * Writes findings; one that is there keeps its place. Its contenders are renewed: a revision that is superseded needs nobody any
 * more, and one that was settled is open again when yet other numbers contradict. One of many contradictions grows, and never shrinks
 * to those that were looked at; of an overlap it takes the place of those that lie in its stretch.
 */
export async function upsertFindings(
  sql: SqlTransaction,
  organisationId: string,
  findings: readonly NewFinding[],
): Promise<void> {
  if (findings.length === 0) return;
  const sorted = [...findings].sort((a, b) => (a.key < b.key ? -1 : 1));
  await sql.rows(
    `INSERT INTO findings AS f (organisation_id, id, key, kind, source_id, webhook_id, subject, circuit_id, detail, state)
     SELECT $1::uuid, * FROM unnest($2::uuid[], $3::text[], $4::text[], $5::uuid[], $6::text[], $7::text[], $8::uuid[],
                                    $9::jsonb[], $10::text[])
     ON CONFLICT (organisation_id, key) DO UPDATE SET detail = EXCLUDED.detail, version = f.version + 1,
       webhook_id = EXCLUDED.webhook_id, source_id = EXCLUDED.source_id,
       state = CASE
         WHEN EXCLUDED.state = 'superseded' THEN CASE WHEN f.state = 'open' THEN 'superseded' ELSE f.state END
         WHEN f.state IN ('settled', 'dismissed')
           AND (f.kind = 'same-revision'
                AND jsonb_array_length(EXCLUDED.detail -> 'contenders') > jsonb_array_length(f.detail -> 'contenders')
                OR ${SUBJECTS('EXCLUDED')} > ${SUBJECTS('f')}) THEN 'open'
         ELSE f.state END
     WHERE f.kind IN ('same-revision', 'overlap') AND ${SUBJECTS('EXCLUDED')} >= ${SUBJECTS('f')}
       AND (f.detail IS DISTINCT FROM EXCLUDED.detail OR (EXCLUDED.state = 'superseded' AND f.state = 'open'))`,
    [
      organisationId,
      ...columns(
        sorted,
        () => uuidv7(),
        (one) => one.key,
        (one) => one.kind,
        (one) => one.sourceId,
        (one) => one.webhookId,
        (one) => one.subject,
        (one) => one.circuitId,
        (one) => JSON.stringify(one.detail),
        (one) => (one.isSuperseded ? 'superseded' : 'open'),
      ),
    ],
  );
  await supersedeWithin(sql, organisationId, sorted);
}

/** Overlaps that were told one by one, or of a shorter stretch, are those of the stretch that they lie in now. */
async function supersedeWithin(
  sql: SqlTransaction,
  organisationId: string,
  findings: readonly NewFinding[],
): Promise<void> {
  const many = findings.flatMap(({ kind, key, circuitId, detail: { stretch } }) =>
    kind === 'overlap' && stretch !== undefined ? [{ key, circuitId, ...stretch }] : [],
  );
  if (many.length === 0) return;
  await sql.rows(
    `UPDATE findings f SET state = 'superseded', version = f.version + 1
     FROM unnest($2::text[], $3::uuid[], $4::timestamptz[], $5::timestamptz[]) AS s (key, circuit_id, from_at, to_at)
     WHERE f.organisation_id = $1::uuid AND f.circuit_id = s.circuit_id AND f.kind = 'overlap' AND f.state = 'open' AND f.key <> s.key
       AND NOT EXISTS (SELECT FROM jsonb_array_elements(f.detail -> 'contenders') c
                       WHERE (c ->> 'from')::timestamptz < s.from_at OR (c ->> 'to')::timestamptz > s.to_at)`,
    [
      organisationId,
      ...columns(
        many,
        (one) => one.key,
        (one) => one.circuitId,
        (one) => one.from,
        (one) => one.to,
      ),
    ],
  );
}
