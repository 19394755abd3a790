import { Logger } from '@nestjs/common';
import pg from 'pg';

/** First key of the advisory locks by which workers show that they live. */
const PRESENCE = 4802;

interface Waits {
  lookEveryMs: number;
  /** a worker that has just claimed its first job may not have shown itself yet */
  graceMs: number;
}

/**
 * Shows that this worker lives, by a lock that its connection holds: when the process dies, however it dies, the server lets
 * go of the lock with the connection. Every worker looks for jobs whose holder is gone and frees them, so that a job is taken
 * up again within seconds (the queue's own limit is four hours).
 */
export class WorkerPresence {
  private readonly log = new Logger(WorkerPresence.name);
  private client: pg.Client | null = null;
  private timer: NodeJS.Timeout | null = null;
  private looking: Promise<void> = Promise.resolve();

  /** @param workerId the name under which the queue notes who holds a job */
  constructor(
    private readonly connectionString: string,
    private readonly workerId: string,
    private readonly waits: Waits,
  ) {}

  async begin(): Promise<void> {
    await this.show();
    this.timer = setInterval(() => {
      this.looking = this.looking.then(() => this.look());
    }, this.waits.lookEveryMs);
    this.timer.unref();
  }

  async end(): Promise<void> {
    if (this.timer !== null) clearInterval(this.timer);
    await this.looking;
    await this.client?.end();
    this.client = null;
  }

  private async show(): Promise<void> {
    const client = new pg.Client({ connectionString: this.connectionString, keepAlive: true });
    client.on('error', () => {
      this.client = null;
    });
    await client.connect();
    // A machine that lost its power says nothing: the server asks, and gives up after half a minute.
    await client.query('SET tcp_keepalives_idle = 10; SET tcp_keepalives_interval = 5; SET tcp_keepalives_count = 4');
    await client.query('SELECT pg_advisory_lock($1, hashtext($2))', [PRESENCE, this.workerId]);
    this.client = client;
  }

  private async look(): Promise<void> {
    try {
      if (this.client === null) await this.show();
      await this.client?.query(
        `SELECT graphile_worker.force_unlock_workers(array_agg(DISTINCT j.locked_by))
         FROM graphile_worker._private_jobs j
         WHERE j.locked_at < now() - $2::int * interval '1 millisecond' AND NOT EXISTS (
           SELECT 1 FROM pg_locks l
           WHERE l.locktype = 'advisory' AND l.granted AND l.objsubid = 2 AND l.classid = $1::int::oid
             AND l.objid = (hashtext(j.locked_by)::bigint & 4294967295)::oid
             AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database()))
         HAVING count(*) > 0`,
        [PRESENCE, this.waits.graceMs],
      );
    } catch (error) {
      this.log.warn(
        `looking for left jobs waits for the next round: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }
}
