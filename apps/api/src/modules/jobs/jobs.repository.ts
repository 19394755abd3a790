import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

export interface JobRow {
  id: string;
  kind: string;
  state: string;
  progress: number;
  step: string;
  done: number | null;
  total: number | null;
  attempts: number;
  parameters: unknown;
  result: unknown;
  problem: unknown;
  requestedBy: string;
  requestedByName: string;
  createdAt: Date;
  startedAt: Date | null;
  finishedAt: Date | null;
  cancelRequestedAt: Date | null;
  /** seconds since it began, by the clock of the database */
  runningS: number | null;
  version: number;
}

const COLUMNS = Prisma.raw(`
  j.id, j.kind, j.state, j.progress, j.step, j.done, j.total, j.attempts, j.parameters, j.result, j.problem,
  j.requested_by AS "requestedBy", coalesce(m.display_name, '') AS "requestedByName", j.created_at AS "createdAt",
  j.started_at AS "startedAt", j.finished_at AS "finishedAt", j.cancel_requested_at AS "cancelRequestedAt",
  extract(epoch FROM clock_timestamp() - j.started_at)::float8 AS "runningS", j.version`);
const FROM = Prisma.raw(`
  FROM jobs j LEFT JOIN memberships m ON m.organisation_id = j.organisation_id AND m.id = j.requested_by`);

@Injectable()
export class JobsRepository {
  constructor(private readonly db: Db) {}

  private get organisationId(): string {
    return this.db.actor.organisationId;
  }

  get asker(): { membershipId: string; role: string } {
    return this.db.actor;
  }

  async find(id: string): Promise<JobRow | null> {
    const [row] = await this.db.tx.$queryRaw<JobRow[]>`
      SELECT ${COLUMNS} ${FROM} WHERE j.organisation_id = ${this.organisationId}::uuid AND j.id = ${id}::uuid`;
    return row ?? null;
  }

  list(
    filter: { state: string | undefined; kind: string | undefined },
    after: readonly (string | number)[] | null,
    limit: number,
  ): Promise<JobRow[]> {
    const where = [Prisma.sql`j.organisation_id = ${this.organisationId}::uuid`];
    if (filter.state !== undefined) where.push(Prisma.sql`j.state = ${filter.state}`);
    if (filter.kind !== undefined) where.push(Prisma.sql`j.kind = ${filter.kind}`);
    if (after !== null) {
      where.push(Prisma.sql`(j.created_at, j.id) < (${String(after[0])}::timestamptz, ${String(after[1])}::uuid)`);
    }
    return this.db.tx.$queryRaw<JobRow[]>`
      SELECT ${COLUMNS} ${FROM} WHERE ${Prisma.join(where, ' AND ')}
      ORDER BY j.created_at DESC, j.id DESC LIMIT ${limit + 1}`;
  }

  /** A job that waits is over at once; one that runs is asked to stop. False when it is over already. */
  async cancel(id: string): Promise<boolean> {
    const changed = await this.db.tx.$executeRaw`
      UPDATE jobs SET cancel_requested_at = coalesce(cancel_requested_at, now()), version = version + 1,
        state = CASE WHEN state = 'queued' THEN 'cancelled' ELSE state END,
        finished_at = CASE WHEN state = 'queued' THEN now() ELSE finished_at END
      WHERE organisation_id = ${this.organisationId}::uuid AND id = ${id}::uuid AND state IN ('queued', 'running')`;
    return changed === 1;
  }
}
