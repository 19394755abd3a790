import { Injectable, Logger } from '@nestjs/common';
import { PROBLEM_CODES } from '@repo/contracts';
import type { Actor } from '../auth/actor.js';
import { Askers } from '../compute/index.js';
import { Db } from '../db/db.js';
import { AppError } from '../errors/app-error.js';
import { fromDatabaseError } from '../errors/database-errors.js';
import { JobStore } from './job-store.js';
import { JobTasks, type JobTask, type RunningJob } from './job-tasks.js';

/** Tries whose process died before a job is given up. */
const TRIES = 5;
/** A background transaction may take this long; the sealer of the audit trail looks back one hour. */
const LONGEST_MS = 30 * 60_000;
const TELL_EVERY_MS = 300;

class Cancelled extends Error {}
class HandedBack extends Error {}
class TakenOver extends Error {}

const problemOf = (error: AppError): object => ({
  code: error.code,
  title: PROBLEM_CODES[error.code].title,
  detail: error.details.detail ?? PROBLEM_CODES[error.code].title,
  ...(error.details.errors === undefined ? {} : { errors: error.details.errors }),
});

/** Runs one job: as the person who asked for it, with the rights that they have now, under row security like a request. */
@Injectable()
export class JobRunner {
  private readonly log = new Logger(JobRunner.name);

  constructor(
    private readonly db: Db,
    private readonly store: JobStore,
    private readonly tasks: JobTasks,
    private readonly askers: Askers,
  ) {}

  /**
   * Never throws for a job that has failed: its row says so. Throws only when the job is to be tried again.
   * @param signal aborted when this process must end
   */
  async run({ organisationId, jobId }: { organisationId: string; jobId: string }, signal: AbortSignal): Promise<void> {
    const requester = await this.store.findRequester(organisationId, jobId);
    if (requester === null) return;
    if (requester.actor === null) {
      await this.refuse(organisationId, jobId);
      return;
    }
    const { actor, kind } = requester;
    const claimed = await this.store.claim(actor, jobId);
    if (claimed === null) return;
    const key = { id: jobId, attempts: claimed.attempts };
    const task = this.tasks.find(kind);
    if (claimed.cancelRequested) return this.store.end(actor, key, 'cancelled', null);
    if (claimed.attempts > TRIES) return this.store.end(actor, key, 'failed', problemOf(new AppError('job.lost')));
    if (task === undefined) {
      this.log.error(`there is no task for jobs of kind ${kind}`);
      return this.store.end(actor, key, 'failed', problemOf(new AppError('service.fault')));
    }
    try {
      await this.perform(task, { actor, key, parameters: claimed.parameters, signal });
    } catch (error) {
      await this.settle(error, actor, key);
    }
  }

  private async perform(
    task: JobTask,
    {
      actor,
      key,
      parameters,
      signal,
    }: {
      actor: Actor;
      key: { id: string; attempts: number };
      parameters: Record<string, unknown>;
      signal: AbortSignal;
    },
  ): Promise<void> {
    let finished = false;
    let toldAt = 0;
    let toldStep = '';
    const assertOurs = (row: { cancelRequested: boolean } | null): void => {
      if (row === null) throw new TakenOver();
      if (row.cancelRequested) throw new Cancelled();
    };
    const job: RunningJob = {
      id: key.id,
      actor,
      parameters,
      progress: async (step, done, total) => {
        if (signal.aborted) throw new HandedBack();
        const now = Date.now();
        if (step === toldStep && now - toldAt < TELL_EVERY_MS) return;
        toldAt = now;
        toldStep = step;
        assertOurs(await this.store.progress(actor, key, { step, done, total }));
      },
      transaction: (work) => this.db.request(actor, key.id, work, { longMs: LONGEST_MS }),
      finish: async (work) => {
        await this.db.request(
          actor,
          key.id,
          async () => {
            const result = await work();
            if (signal.aborted) throw new HandedBack();
            if (!(await this.store.finish(this.db.tx, actor, key, result))) {
              assertOurs(await this.store.progress(actor, key, { step: toldStep, done: 1, total: 1 }));
              throw new TakenOver();
            }
          },
          { longMs: LONGEST_MS },
        );
        finished = true;
      },
    };
    const asker = { organisation: actor.organisationId, person: actor.userId, signal, isPatient: true };
    const result = await this.askers.run(asker, () => task(job));
    if (!finished) await job.finish(() => Promise.resolve(result));
  }

  private async settle(error: unknown, actor: Actor, key: { id: string; attempts: number }): Promise<void> {
    if (error instanceof TakenOver) return;
    if (error instanceof Cancelled) return this.store.end(actor, key, 'cancelled', null);
    if (error instanceof HandedBack) {
      await this.store.handBack(actor, key);
      throw error;
    }
    const known = error instanceof AppError ? error : fromDatabaseError(error);
    // What passes by itself is tried again; the row stays as it is, and the next try claims it.
    if (known !== null && PROBLEM_CODES[known.code].status === 503) throw error;
    if (known === null) this.log.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
    await this.store.end(actor, key, 'failed', problemOf(known ?? new AppError('service.fault')));
  }

  /** A job of somebody who may do nothing here any more: the job ends in the name of the organisation. */
  private async refuse(organisationId: string, jobId: string): Promise<void> {
    const scope = { organisationId, customerId: null, role: 'administrator' };
    await this.db.transaction(
      scope,
      (tx) => tx.$executeRaw`
      UPDATE jobs SET state = 'failed', finished_at = now(), problem = ${JSON.stringify(problemOf(new AppError('session.role')))}::jsonb
      WHERE organisation_id = ${organisationId}::uuid AND id = ${jobId}::uuid AND state IN ('queued', 'running')`,
    );
  }
}
