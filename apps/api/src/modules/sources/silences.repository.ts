import { Injectable } from '@nestjs/common';
import { Db } from '../../platform/db/index.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { MachineHearing } from './silence.js';

interface DueRow {
  machine_id: string;
  customer_id: string;
  reported_until: Date | null;
  silent_since: Date | null;
  is_told: boolean;
  source_id: string | null;
  source_name: string | null;
  heard_at: Date | null;
  mapped_at: Date | null;
  silent_after_s: number | null;
}

export interface ReportRow {
  machineId: string;
  reportedUntil: Date | null;
  silentSince: Date | null;
  isTold: boolean;
  dueAt: Date;
}

const toHearing = (row: DueRow): MachineHearing => ({
  machineId: row.machine_id,
  customerId: row.customer_id,
  reportedUntilMs: row.reported_until?.getTime() ?? null,
  silentSinceMs: row.silent_since?.getTime() ?? null,
  isTold: row.is_told,
  source:
    row.source_id === null
      ? null
      : {
          id: row.source_id,
          name: row.source_name ?? '',
          heardAtMs: row.heard_at?.getTime() ?? 0,
          mappedAtMs: row.mapped_at?.getTime() ?? 0,
          silentAfterS: row.silent_after_s ?? 0,
        },
});

/** Until when machines have reported, and since when they are silent. */
@Injectable()
export class SilencesRepository {
  constructor(private readonly db: Db) {}

  get sql(): SqlTransaction {
    return this.db.sql;
  }

  get organisationId(): string {
    return this.db.actor.organisationId;
  }

  /**
   * Machines that are due to be looked at, held until the end of the transaction; what somebody else holds is left to them. The last
   * interval of a circuit is the last by its beginning, for prevailing ones do not overlap.
   */
  async listDue(limit: number): Promise<MachineHearing[]> {
    const o = this.organisationId;
    const rows = await this.db.tx.$queryRaw<DueRow[]>`
      WITH due AS MATERIALIZED (
        SELECT * FROM machine_reports WHERE organisation_id = ${o}::uuid AND due_at <= now()
        ORDER BY due_at LIMIT ${limit} FOR UPDATE SKIP LOCKED)
      SELECT d.machine_id, d.customer_id, d.silent_since, d.is_told, last.reported_until,
             s.id AS source_id, s.name AS source_name, s.heard_at, s.mapped_at, s.silent_after_s
      FROM due d
      LEFT JOIN LATERAL (
        SELECT max(t.to_at) AS reported_until FROM circuits c
        CROSS JOIN LATERAL (SELECT a.to_at FROM alarm_counts a
          WHERE a.organisation_id = ${o}::uuid AND a.circuit_id = c.id AND a.prevails ORDER BY a.from_at DESC LIMIT 1) t
        WHERE c.organisation_id = ${o}::uuid AND c.machine_id = d.machine_id) last ON true
      LEFT JOIN LATERAL (
        SELECT s.id, s.name, coalesce(s.last_heard_at, s.created_at) AS heard_at, s.silent_after_s,
               min(m.created_at) OVER () AS mapped_at
        FROM source_machines m
        JOIN sources s ON s.organisation_id = m.organisation_id AND s.id = m.source_id AND s.archived_at IS NULL
        JOIN machines k ON k.organisation_id = m.organisation_id AND k.id = m.machine_id AND k.archived_at IS NULL
          AND k.disposition = 'in-service'
        WHERE m.organisation_id = ${o}::uuid AND m.machine_id = d.machine_id
        ORDER BY s.last_heard_at DESC NULLS LAST, s.id LIMIT 1) s ON true
      ORDER BY d.machine_id`;
    return rows.map(toHearing);
  }

  async keep(rows: readonly ReportRow[]): Promise<void> {
    await this.db.tx.$executeRaw`
      UPDATE machine_reports r
      SET reported_until = u."reportedUntil", silent_since = u."silentSince", is_told = u."isTold", due_at = u."dueAt"
      FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS u ("machineId" uuid, "reportedUntil" timestamptz,
        "silentSince" timestamptz, "isTold" boolean, "dueAt" timestamptz)
      WHERE r.organisation_id = ${this.organisationId}::uuid AND r.machine_id = u."machineId"`;
  }
}
