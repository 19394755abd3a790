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

/** What the trigger that enqueues says of jobs that may take long. */
const LONG = 'long';

interface Slots {
  readonly runner: Runner;
  readonly presence: WorkerPresence;
}

/**
 * Works on jobs in this process. Any number of processes may: each job is claimed by one of them. One slot is kept for short jobs:
 * however many long ones are under way, whoever asked for something small has it in moments.
 */
@Injectable()
export class JobWorker implements OnApplicationBootstrap {
  private readonly log = new Logger(JobWorker.name);
  private readonly ending = new AbortController();
  private slots: Slots[] = [];
  private pool: pg.Pool | null = null;

  constructor(
    @Inject(ENV) private readonly env: Env,
    private readonly jobs: JobRunner,
    private readonly db: Db,
  ) {}

  async onApplicationBootstrap(): Promise<void> {
    if (this.env.WORKER === 'off') return;
    this.db.closeAfter(() => this.stop());
    // Each slot, and for each of the two groups of slots one that listens and two in hand.
    this.pool = new pg.Pool({ connectionString: this.env.DATABASE_GATE_URL, max: this.env.WORKER_JOBS + 7 });
    this.pool.on('error', () => undefined);
    this.pool.on('connect', (client) => client.on('error', () => undefined));
    this.slots.push(await this.open(this.pool, Math.max(1, this.env.WORKER_JOBS - 1), []));
    this.slots.push(await this.open(this.pool, 1, [LONG]));
  }

  private async open(pgPool: pg.Pool, concurrency: number, forbiddenFlags: string[]): Promise<Slots> {
    const events: WorkerEvents = new EventEmitter();
    const named = new Promise<string>((resolve) => {
      events.once('pool:create', ({ workerPool }) => resolve(workerPool.id));
    });
    const runner = await run({
      pgPool,
      schema: 'graphile_worker',
      concurrency,
      forbiddenFlags,
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
    runner.promise.catch((error: unknown) => {
      this.log.error(`the queue stopped: ${error instanceof Error ? error.message : String(error)}`);
    });
    const presence = new WorkerPresence(this.env.DATABASE_GATE_URL, await named, {
      lookEveryMs: this.env.WORKER_LOOK_MS,
      graceMs: this.env.WORKER_GRACE_MS,
    });
    await presence.begin();
    return { runner, presence };
  }

  /** Lets running jobs finish, or hands them back. */
  private async stop(): Promise<void> {
    const patience = setTimeout(() => this.ending.abort(), this.env.WORKER_FINISH_MS);
    await Promise.all(this.slots.map(({ runner }) => runner.stop()));
    clearTimeout(patience);
    await Promise.all(this.slots.map(({ presence }) => presence.end()));
    await this.pool?.end();
  }
}
