import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';

export interface EffectiveRule {
  circuitId: string;
  alarmKind: string | null;
  threshold: number;
  windowS: number;
}

/** The rule of each circuit, its own before the organisation's; circuits without one, or with one that is off, are left out. */
export async function listRules(
  sql: SqlTransaction,
  organisationId: string,
  circuitIds: readonly string[],
): Promise<EffectiveRule[]> {
  return sql.rows<EffectiveRule>(
    `SELECT c.id AS "circuitId", r.alarm_kind AS "alarmKind", r.threshold, r.window_s AS "windowS"
     FROM unnest($2::uuid[]) AS c (id)
     CROSS JOIN LATERAL (SELECT * FROM alarm_rules r WHERE r.organisation_id = $1::uuid
                           AND (r.circuit_id = c.id OR r.circuit_id IS NULL)
                         ORDER BY r.circuit_id IS NULL LIMIT 1) r
     WHERE r.is_on`,
    [organisationId, circuitIds],
  );
}

/** Names of sources by their ids. */
export async function readSourceNames(
  sql: SqlTransaction,
  organisationId: string,
  sourceIds: readonly string[],
): Promise<Map<string, string>> {
  const rows = await sql.rows<{ id: string; name: string }>(
    'SELECT id, name FROM sources WHERE organisation_id = $1::uuid AND id = ANY ($2::uuid[])',
    [organisationId, sourceIds],
  );
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** What the transaction may write from here on. */
export async function takeRole(sql: SqlTransaction, role: 'alarm-rule' | 'source'): Promise<void> {
  await sql.rows(`SELECT set_config('app.role', $1::text, true)`, [role]);
}
