import type { AlarmEvidence } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { reachingInto } from './counts-reaching.js';
import type { CountsSql } from './counts-sql.js';
import type { Range } from './merge-reports.js';

export interface EffectiveRule {
  circuitId: string;
  alarmKind: string | null;
  threshold: number;
  windowS: number;
}

/** The rule of each circuit, its own before the organisation's; circuits without one, or with one that is off, are left out. */
export async function listRules(
  sql: CountsSql,
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

export interface CountedInterval {
  circuitId: string;
  sourceId: string;
  fromMs: number;
  toMs: number;
  alarms: Record<string, number>;
}

/** Reports that stand and hold alarms, within stretches. */
export async function listAlarms(
  sql: CountsSql,
  organisationId: string,
  ranges: readonly Range[],
): Promise<CountedInterval[]> {
  const reaching = reachingInto(organisationId, ranges, `AND c.stands AND c.alarms <> '{}'`);
  return sql.rows<CountedInterval>(
    `SELECT a.circuit_id AS "circuitId", a.source_id AS "sourceId", (extract(epoch FROM a.from_at) * 1000)::float8 AS "fromMs",
            (extract(epoch FROM a.to_at) * 1000)::float8 AS "toMs", a.alarms
     ${reaching.from}`,
    reaching.values,
  );
}

export interface CircuitIssues {
  circuitId: string;
  customerId: string;
  machineId: string;
  circuitName: string;
  openId: string | null;
  evidence: AlarmEvidence | null;
  closedAtMs: number | null;
}

/** Issues that a rule opened, per circuit: the open one, and when the last one was closed. */
export async function listCircuitIssues(
  sql: CountsSql,
  organisationId: string,
  circuitIds: readonly string[],
): Promise<CircuitIssues[]> {
  return sql.rows<CircuitIssues>(
    `SELECT c.id AS "circuitId", c.customer_id AS "customerId", c.machine_id AS "machineId", c.name AS "circuitName",
            o.id AS "openId", o.evidence, l.closed_ms AS "closedAtMs"
     FROM unnest($2::uuid[]) AS w (id)
     JOIN circuits c ON c.organisation_id = $1::uuid AND c.id = w.id
     LEFT JOIN LATERAL (SELECT i.id, i.evidence FROM issues i WHERE i.organisation_id = $1::uuid AND i.circuit_id = c.id
                          AND i.kind = 'alarm' AND i.state = 'open' AND i.evidence ? 'rule' LIMIT 1) o ON true
     LEFT JOIN LATERAL (SELECT (extract(epoch FROM max(i.closed_at)) * 1000)::float8 AS closed_ms FROM issues i
                        WHERE i.organisation_id = $1::uuid AND i.circuit_id = c.id AND i.kind = 'alarm' AND i.state = 'closed'
                          AND i.evidence ? 'rule') l ON true`,
    [organisationId, circuitIds],
  );
}

export async function readSourceName(sql: CountsSql, organisationId: string, sourceId: string): Promise<string> {
  const [row] = await sql.rows<{ name: string }>(
    'SELECT name FROM sources WHERE organisation_id = $1::uuid AND id = $2::uuid',
    [organisationId, sourceId],
  );
  return row?.name ?? '';
}

/** Opens an issue in the name of the source, with its number and its line in the audit trail. */
export async function openIssue(
  sql: CountsSql,
  organisationId: string,
  issue: {
    circuit: CircuitIssues;
    title: string;
    evidence: AlarmEvidence;
    sourceId: string;
    sourceName: string;
  },
): Promise<void> {
  const id = uuidv7();
  await sql.rows(
    `WITH counter AS (
       INSERT INTO number_counters AS n (organisation_id, noun, last_number) VALUES ($1::uuid, 'issue', 1)
       ON CONFLICT (organisation_id, noun) DO UPDATE SET last_number = n.last_number + 1 RETURNING last_number)
     INSERT INTO issues (organisation_id, customer_id, id, number, machine_id, circuit_id, kind, title, evidence, opened_by,
                         opened_by_name)
     SELECT $1::uuid, $2::uuid, $3::uuid, last_number, $4::uuid, $5::uuid, 'alarm', $6::text, $7::jsonb, $8::uuid, $9::text
     FROM counter`,
    [
      organisationId,
      issue.circuit.customerId,
      id,
      issue.circuit.machineId,
      issue.circuit.circuitId,
      issue.title,
      JSON.stringify(issue.evidence),
      issue.sourceId,
      issue.sourceName,
    ],
  );
  await sql.rows(
    `INSERT INTO audit_entries (organisation_id, id, customer_id, actor_name, action, entity, entity_id, changes, request_id)
     VALUES ($1::uuid, $2::uuid, $3::uuid, $4::text, 'open', 'issue', $5::uuid, $6::jsonb, '')`,
    [
      organisationId,
      uuidv7(),
      issue.circuit.customerId,
      issue.sourceName,
      id,
      JSON.stringify({ title: issue.title, rule: issue.evidence.rule }),
    ],
  );
}

export async function updateEvidence(
  sql: CountsSql,
  organisationId: string,
  issueId: string,
  evidence: AlarmEvidence,
): Promise<void> {
  await sql.rows(
    `UPDATE issues SET evidence = $3::jsonb, version = version + 1
     WHERE organisation_id = $1::uuid AND id = $2::uuid AND state = 'open' AND evidence IS DISTINCT FROM $3::jsonb`,
    [organisationId, issueId, JSON.stringify(evidence)],
  );
}

/** What the transaction may write from here on. */
export async function takeRole(sql: CountsSql, role: 'alarm-rule' | 'source'): Promise<void> {
  await sql.rows(`SELECT set_config('app.role', $1::text, true)`, [role]);
}
