import { Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import type { Actor } from '../auth/actor.js';
import { Db, type Transaction } from '../db/db.js';
import { Gate } from '../db/gate.js';
import { jobParameters } from './job-documents.js';

export interface ClaimedJob {
  attempts: number;
  cancelRequested: boolean;
  parameters: Record<string, unknown>;
}

/** The rows of running jobs, written in short transactions of their own so that everybody sees how far they are. */
@Injectable()
export class JobStore {
  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  /** Who asked, with the rights that they have now; null when the job is over, or the person may do nothing any more. */
  async findRequester(organisationId: string, jobId: string): Promise<{ kind: string; actor: Actor | null } | null> {
    const [row] = await this.gate.query<{
      kind: string;
      membership_id: string;
      user_id: string | null;
      role: Role;
      display_name: string;
    }>(
      `SELECT j.kind, j.requested_by AS membership_id, m.user_id, m.role, m.display_name
       FROM jobs j
       LEFT JOIN memberships m ON m.organisation_id = j.organisation_id AND m.id = j.requested_by
         AND m.archived_at IS NULL AND m.customer_id IS NULL
         AND EXISTS (SELECT 1 FROM users u WHERE u.id = m.user_id AND u.disabled_at IS NULL)
       WHERE j.organisation_id = $1 AND j.id = $2 AND j.state IN ('queued', 'running')`,
      [organisationId, jobId],
    );
    if (row === undefined) return null;
    if (row.user_id === null) return { kind: row.kind, actor: null };
    return {
      kind: row.kind,
      actor: {
        sessionId: jobId,
        userId: row.user_id,
        membershipId: row.membership_id,
        organisationId,
        customerId: null,
        role: row.role,
        displayName: row.display_name,
      },
    };
  }

  /** Takes the job; every try has its number, and only the newest may write. */
  claim(actor: Actor, id: string): Promise<ClaimedJob | null> {
    return this.db.transaction(actor, async (tx) => {
      const [row] = await tx.$queryRaw<(Omit<ClaimedJob, 'parameters'> & { parameters: unknown })[]>`
        UPDATE jobs SET state = 'running', attempts = attempts + 1, started_at = coalesce(started_at, now()),
                        progress = 0, step = '', done = NULL, total = NULL
        WHERE organisation_id = ${actor.organisationId}::uuid AND id = ${id}::uuid AND state IN ('queued', 'running')
        RETURNING attempts, cancel_requested_at IS NOT NULL AS "cancelRequested", parameters`;
      return row === undefined ? null : { ...row, parameters: jobParameters.read(row.parameters, id) };
    });
  }

  /** null when the job is no longer ours. */
  progress(
    actor: Actor,
    key: { id: string; attempts: number },
    at: { step: string; done: number; total: number },
  ): Promise<{ cancelRequested: boolean } | null> {
    const share = at.total <= 0 ? 0 : Math.min(1, Math.max(0, at.done / at.total));
    return this.db.transaction(actor, async (tx) => {
      const [row] = await tx.$queryRaw<{ cancelRequested: boolean }[]>`
        UPDATE jobs SET progress = ${share}, step = ${at.step}, done = ${Math.round(at.done)}, total = ${Math.round(at.total)}
        WHERE organisation_id = ${actor.organisationId}::uuid AND id = ${key.id}::uuid AND state = 'running'
          AND attempts = ${key.attempts}
        RETURNING cancel_requested_at IS NOT NULL AS "cancelRequested"`;
      return row ?? null;
    });
  }

  /** Ends a job as finished, in the caller's transaction, which may have begun long before; false when it was cancelled or taken over. */
  async finish(
    tx: Transaction,
    actor: Actor,
    key: { id: string; attempts: number },
    result: unknown,
  ): Promise<boolean> {
    const changed = await tx.$executeRaw`
      UPDATE jobs SET state = 'finished', progress = 1, finished_at = clock_timestamp(), version = version + 1,
                      result = ${JSON.stringify(result ?? {})}::jsonb
      WHERE organisation_id = ${actor.organisationId}::uuid AND id = ${key.id}::uuid AND state = 'running'
        AND attempts = ${key.attempts} AND cancel_requested_at IS NULL`;
    return changed === 1;
  }

  /** Ends a job otherwise. */
  async end(
    actor: Actor,
    key: { id: string; attempts: number },
    state: 'failed' | 'cancelled',
    problem: object | null,
  ): Promise<void> {
    await this.db.transaction(
      actor,
      (tx) => tx.$executeRaw`
      UPDATE jobs SET state = ${state}, finished_at = now(), version = version + 1,
                      problem = ${problem === null ? null : JSON.stringify(problem)}::jsonb
      WHERE organisation_id = ${actor.organisationId}::uuid AND id = ${key.id}::uuid AND state IN ('queued', 'running')
        AND attempts = ${key.attempts}`,
    );
  }

  /** Gives a job back that this process has no time to finish; the try does not count. */
  async handBack(actor: Actor, key: { id: string; attempts: number }): Promise<void> {
    await this.db.transaction(
      actor,
      (tx) => tx.$executeRaw`
      UPDATE jobs SET state = 'queued', attempts = attempts - 1, progress = 0, step = '', done = NULL, total = NULL
      WHERE organisation_id = ${actor.organisationId}::uuid AND id = ${key.id}::uuid AND state = 'running'
        AND attempts = ${key.attempts}`,
    );
  }
}
