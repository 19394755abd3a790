import { columns, type SqlTransaction } from '../../platform/sql/sql-transaction.js';
import { ORIGINS, type IssueOrigin } from './issue-origins.js';

/** Issues share these many locks, as circuits do: whoever opens many takes no more than so many of the server's. */
const STRIPES = 256;
const LOCK_SPACE = 4808;

/** Where an issue belongs: at a circuit, at a machine, or at a customer, and by what its origin knows it. */
export interface DoorPlace {
  readonly circuitId: string | null;
  /** null: that of the circuit, or none */
  readonly machineId: string | null;
  /** null: that of the machine */
  readonly customerId: string | null;
  /** one issue of it is open at a time */
  readonly key: string;
}

/** A place with what its origin has opened there. */
export interface DoorState {
  readonly key: string;
  readonly customerId: string;
  readonly machineId: string | null;
  readonly circuitId: string | null;
  readonly circuitName: string | null;
  readonly machineName: string | null;
  /** the open issue; null when none is */
  readonly openId: string | null;
  readonly version: number | null;
  readonly evidence: unknown;
  /** when the last one was closed; null when none was */
  readonly closedAtMs: number | null;
}

/** Holds other openers of the same issues off until the end of the transaction; always in the same order. */
export async function lockKeys(sql: SqlTransaction, organisationId: string, keys: readonly string[]): Promise<void> {
  await sql.rows(
    `SELECT count(pg_advisory_xact_lock(${LOCK_SPACE}, stripe)::text) FROM (
       SELECT DISTINCT (hashtextextended($1::text || key, 0) & ${STRIPES - 1})::int AS stripe
       FROM unnest($2::text[]) key ORDER BY 1) s`,
    [organisationId, keys],
  );
}

/** What an origin has opened at places; circuits, machines and customers that do not exist are left out. */
export async function readStates(
  sql: SqlTransaction,
  organisationId: string,
  origin: IssueOrigin,
  places: readonly DoorPlace[],
): Promise<DoorState[]> {
  return sql.rows<DoorState>(
    `SELECT w.key, k.id AS "customerId", m.id AS "machineId", c.id AS "circuitId", c.name AS "circuitName", m.name AS "machineName",
            o.id AS "openId", o.version, o.evidence, l.closed_ms AS "closedAtMs"
     FROM unnest($3::uuid[], $4::uuid[], $5::uuid[], $6::text[]) AS w (circuit_id, machine_id, customer_id, key)
     LEFT JOIN circuits c ON c.organisation_id = $1::uuid AND c.id = w.circuit_id
     LEFT JOIN machines m ON m.organisation_id = $1::uuid AND m.id = coalesce(c.machine_id, w.machine_id)
     JOIN customers k ON k.organisation_id = $1::uuid AND k.id = coalesce(m.customer_id, w.customer_id)
     LEFT JOIN LATERAL (SELECT i.id, i.version, i.evidence FROM issues i
                        WHERE i.organisation_id = $1::uuid AND i.origin = $2::text AND i.origin_key = w.key AND i.state = 'open'
                        LIMIT 1) o ON true
     LEFT JOIN LATERAL (SELECT (extract(epoch FROM max(i.closed_at)) * 1000)::float8 AS closed_ms FROM issues i
                        WHERE i.organisation_id = $1::uuid AND i.origin = $2::text AND i.origin_key = w.key
                          AND i.state = 'closed') l ON true
     WHERE (c.id IS NOT NULL OR w.circuit_id IS NULL) AND (m.id IS NOT NULL OR w.machine_id IS NULL)`,
    [
      organisationId,
      origin,
      ...columns(
        places,
        (place) => place.circuitId,
        (place) => place.machineId,
        (place) => place.customerId,
        (place) => place.key,
      ),
    ],
  );
}

export interface NewIssue {
  readonly id: string;
  readonly customerId: string;
  readonly machineId: string | null;
  readonly circuitId: string | null;
  readonly key: string;
  readonly title: string;
  readonly evidence: unknown;
  readonly openedBy: string;
  readonly openedByName: string;
  readonly auditId: string;
  readonly auditChanges: unknown;
}

/**
 * Opens issues, each with its number and its line in the audit trail, unless one of the same key is open by now; the ids of those
 * opened. Hold the locks of the keys before.
 */
export async function insertIssues(
  sql: SqlTransaction,
  organisationId: string,
  origin: IssueOrigin,
  issues: readonly NewIssue[],
): Promise<Set<string>> {
  const rows = await sql.rows<{ id: string }>(
    `WITH wanted AS (
       SELECT * FROM unnest($4::uuid[], $5::uuid[], $6::uuid[], $7::uuid[], $8::text[], $9::text[], $10::jsonb[], $11::uuid[],
                            $12::text[], $13::uuid[], $14::jsonb[]) WITH ORDINALITY
         AS w (id, customer_id, machine_id, circuit_id, key, title, evidence, opened_by, opened_by_name, audit_id, changes, place)
     ), fresh AS MATERIALIZED (
       SELECT w.*, row_number() OVER (ORDER BY w.place) AS nth FROM wanted w
       WHERE NOT EXISTS (SELECT FROM issues i WHERE i.organisation_id = $1::uuid AND i.origin = $3::text AND i.origin_key = w.key
                         AND i.state = 'open')
     ), counter AS (
       INSERT INTO number_counters AS n (organisation_id, noun, last_number)
       SELECT $1::uuid, 'issue', count(*) FROM fresh HAVING count(*) > 0
       ON CONFLICT (organisation_id, noun) DO UPDATE SET last_number = n.last_number + EXCLUDED.last_number
       RETURNING last_number
     ), recorded AS (
       INSERT INTO audit_entries (organisation_id, id, customer_id, actor_name, action, entity, entity_id, changes, request_id)
       SELECT $1::uuid, f.audit_id, f.customer_id, f.opened_by_name, 'open', 'issue', f.id, f.changes, '' FROM fresh f
     )
     INSERT INTO issues (organisation_id, customer_id, id, number, machine_id, circuit_id, kind, origin, origin_key, title, evidence,
                         opened_by, opened_by_name)
     SELECT $1::uuid, f.customer_id, f.id, counter.last_number - (SELECT count(*) FROM fresh) + f.nth, f.machine_id, f.circuit_id,
            $2::text, $3::text, f.key, f.title, f.evidence, f.opened_by, f.opened_by_name
     FROM fresh f CROSS JOIN counter RETURNING id`,
    [
      organisationId,
      ORIGINS[origin],
      origin,
      ...columns(
        issues,
        (issue) => issue.id,
        (issue) => issue.customerId,
        (issue) => issue.machineId,
        (issue) => issue.circuitId,
        (issue) => issue.key,
        (issue) => issue.title,
        (issue) => JSON.stringify(issue.evidence),
        (issue) => issue.openedBy,
        (issue) => issue.openedByName,
        (issue) => issue.auditId,
        (issue) => JSON.stringify(issue.auditChanges),
      ),
    ],
  );
  return new Set(rows.map(({ id }) => id));
}

/** Writes the evidence of open issues that are as they were read; the ids of those written. */
export async function updateEvidence(
  sql: SqlTransaction,
  organisationId: string,
  issues: readonly { readonly id: string; readonly version: number; readonly evidence: unknown }[],
): Promise<Set<string>> {
  const rows = await sql.rows<{ id: string }>(
    `UPDATE issues i SET evidence = u.evidence, version = i.version + 1
     FROM unnest($2::uuid[], $3::int[], $4::jsonb[]) AS u (id, version, evidence)
     WHERE i.organisation_id = $1::uuid AND i.id = u.id AND i.version = u.version AND i.state = 'open' RETURNING i.id`,
    [
      organisationId,
      ...columns(
        issues,
        (issue) => issue.id,
        (issue) => issue.version,
        (issue) => JSON.stringify(issue.evidence),
      ),
    ],
  );
  return new Set(rows.map(({ id }) => id));
}
