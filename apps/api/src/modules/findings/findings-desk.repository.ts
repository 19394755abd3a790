import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';
import type { FindingDetail } from './finding-detail.js';

export interface FindingRow {
  id: string;
  source_id: string | null;
  kind: string;
  state: string;
  subject: string;
  webhook_id: string;
  circuit_id: string | null;
  circuit_name: string | null;
  machine_id: string | null;
  machine_name: string | null;
  found_at: Date;
  settled_at: Date | null;
  settlement: string;
  detail: unknown;
  version: number;
}

export interface FindingFilter {
  state: string;
  sourceId?: string | undefined;
  machineId?: string | undefined;
}

/** A body that was kept whole may have megabytes, and so may many parts; a list shows how they begin. */
const SHOWN_BODY = 2_000;
const SHOWN_PARTS = Prisma.sql`jsonb_path_query_array(f.detail, '$.parts[0 to 2]')`;

/** Findings as people see and settle them, within the transaction of their request. */
@Injectable()
export class FindingsDeskRepository {
  constructor(private readonly db: Db) {}

  /** The request's transaction, for the rules that gateways' deliveries go by as well. */
  get sql(): SqlTransaction {
    return this.db.sql;
  }

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  private select(where: readonly Prisma.Sql[], tail: Prisma.Sql): Promise<FindingRow[]> {
    return this.db.tx.$queryRaw<FindingRow[]>`
      SELECT f.id, f.source_id, f.kind, f.state, f.subject, f.webhook_id, f.circuit_id, c.name AS circuit_name, m.id AS machine_id,
             m.name AS machine_name, f.found_at, f.settled_at, f.settlement, f.version,
             CASE WHEN f.kind = 'same-id-other-body'
                 THEN jsonb_set(f.detail, '{body}', to_jsonb(left(f.detail ->> 'body', ${SHOWN_BODY}::int)))
               WHEN f.detail ? 'parts' THEN jsonb_set(f.detail, '{parts}', ${SHOWN_PARTS})
               ELSE f.detail END AS detail
      FROM findings f
      LEFT JOIN circuits c ON c.organisation_id = f.organisation_id AND c.id = f.circuit_id
      LEFT JOIN machines m ON m.organisation_id = c.organisation_id AND m.id = c.machine_id
      WHERE f.organisation_id = ${this.organisationId}::uuid AND ${Prisma.join(where, ' AND ')} ${tail}`;
  }

  async find(id: string): Promise<FindingRow | null> {
    const [row] = await this.select([Prisma.sql`f.id = ${id}::uuid`], Prisma.empty);
    return row ?? null;
  }

  list(filter: FindingFilter, after: readonly (string | number)[] | null, limit: number): Promise<FindingRow[]> {
    const where = [Prisma.sql`true`];
    if (filter.state !== 'all') where.push(Prisma.sql`f.state = ${filter.state}`);
    if (filter.sourceId !== undefined) where.push(Prisma.sql`f.source_id = ${filter.sourceId}::uuid`);
    if (filter.machineId !== undefined) where.push(Prisma.sql`c.machine_id = ${filter.machineId}::uuid`);
    if (after !== null) {
      where.push(Prisma.sql`(f.found_at, f.id) < (${String(after[0])}::timestamptz, ${String(after[1])}::uuid)`);
    }
    return this.select(where, Prisma.sql`ORDER BY f.found_at DESC, f.id DESC LIMIT ${limit + 1}`);
  }

  /** All that it keeps, whole. */
  async readDetail(id: string): Promise<unknown> {
    const [row] = await this.db.tx.$queryRaw<{ detail: unknown }[]>`
      SELECT f.detail FROM findings f WHERE f.organisation_id = ${this.organisationId}::uuid AND f.id = ${id}::uuid`;
    return row?.detail;
  }

  /** Keeps what is left of an open finding that was read in this version. */
  async keep(row: { id: string; version: number }, detail: FindingDetail): Promise<boolean> {
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      UPDATE findings SET detail = ${JSON.stringify(detail)}::jsonb, version = version + 1
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ${row.id}::uuid AND state = 'open'
        AND version = ${row.version} RETURNING id`;
    return rows.length === 1;
  }

  /**
   * Other open findings of the same kind and subject of the same source, oldest first. A gateway that counts its deliveries from 1 again
   * uses one id after the other anew: there each id is a subject, and all are alike.
   */
  listAlike(row: FindingRow, limit: number): Promise<FindingRow[]> {
    return this.select(
      [
        Prisma.sql`f.source_id = ${row.source_id}::uuid AND f.kind = ${row.kind}`,
        row.kind === 'same-id-other-body' ? Prisma.sql`true` : Prisma.sql`f.subject = ${row.subject}`,
        Prisma.sql`f.state = 'open' AND f.id <> ${row.id}::uuid`,
      ],
      Prisma.sql`ORDER BY f.found_at, f.id LIMIT ${limit}`,
    );
  }

  /** Open conflicts of one circuit. */
  listConflicts(circuitId: string): Promise<FindingRow[]> {
    return this.select(
      [Prisma.sql`f.circuit_id = ${circuitId}::uuid AND f.kind IN ('same-revision', 'overlap') AND f.state = 'open'`],
      Prisma.sql`ORDER BY f.found_at, f.id LIMIT 5000`,
    );
  }

  /** Ends findings; how many were open still. The first must have the version that was read. */
  async close(
    ids: readonly string[],
    end: { state: string; settlement: string; userId: string },
    first: { id: string; version: number },
  ): Promise<boolean> {
    const rows = await this.db.tx.$queryRaw<{ id: string }[]>`
      UPDATE findings SET state = ${end.state}, settlement = ${end.settlement}, settled_at = now(),
             settled_by = ${end.userId}::uuid, version = version + 1
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ANY (${[...ids]}::uuid[]) AND state = 'open'
        AND (id <> ${first.id}::uuid OR version = ${first.version}) RETURNING id`;
    return rows.some(({ id }) => id === first.id);
  }
}
