import { EventEmitter } from 'node:events';
import { Inject, Injectable, Logger, type OnApplicationBootstrap } from '@nestjs/common';
import { Logger as QueueLogger, run, type Runner, type WorkerEvents } from 'graphile-worker';
import pg from 'pg';
import { z } from 'zod';
import { ENV, type Env } from '../../config/env.js';
import { Db } from '../db/db.js';
import { JobRunner } from './job-runner.js';
import { WorkerPresence } from './worker-presence.js';

/** New jobs are told by NOTIFY; this is for jobs that are due again after a failure. */
const LOOK_EVERY_MS = 2_000;

const payloadSchema = z.object({ organisationId: z.uuid(), jobId: z.uuid() });

/** Works on jobs in this process. Any number of processes may: each job is claimed by one of them. */
@Injectable()
export class JobWorker implements OnApplicationBootstrap {
  private readonly log = new Logger(JobWorker.name);
  private readonly ending = new AbortController();
  private runner: Runner | null = null;
  private presence: WorkerPresence | null = null;
  private pool: pg.Pool | null = null;

  constructor(
    @Inject(ENV) private readonly env: Env,
    private readonly jobs: JobRunner,
    private readonly db: Db,
  ) {}

  async onApplicationBootstrap(): Promise<void> {
    if (this.env.WORKER === 'off') return;
    this.db.closeAfter(() => this.stop());
    this.pool = new pg.Pool({ connectionString: this.env.DATABASE_GATE_URL, max: this.env.WORKER_JOBS + 3 });
    this.pool.on('error', () => undefined);
    this.pool.on('connect', (client) => client.on('error', () => undefined));
    const events: WorkerEvents = new EventEmitter();
    const named = new Promise<string>((resolve) => {
      events.once('pool:create', ({ workerPool }) => resolve(workerPool.id));
    });
    this.runner = await run({
      pgPool: this.pool,
      schema: 'graphile_worker',
      concurrency: this.env.WORKER_JOBS,
      pollInterval: LOOK_EVERY_MS,
      noHandleSignals: true,
      events,
      logger: new QueueLogger(() => (level, message) => {
        if (level === 'error') this.log.warn(message);
      }),
      taskList: {
        job: (payload) => this.jobs.run(payloadSchema.parse(payload), this.ending.signal),
      },
    });
    this.runner.promise.catch((error: unknown) => {
      this.log.error(`the queue stopped: ${error instanceof Error ? error.message : String(error)}`);
    });
    this.presence = new WorkerPresence(this.env.DATABASE_GATE_URL, await named, {
      lookEveryMs: this.env.WORKER_LOOK_MS,
      graceMs: this.env.WORKER_GRACE_MS,
    });
    await this.presence.begin();
  }

  /** Lets running jobs finish, or hands them back. */
  private async stop(): Promise<void> {
    const patience = setTimeout(() => this.ending.abort(), this.env.WORKER_FINISH_MS);
    await this.runner?.stop();
    clearTimeout(patience);
    await this.presence?.end();
    await this.pool?.end();
  }
}
