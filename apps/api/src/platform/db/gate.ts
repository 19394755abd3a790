import { Inject, Injectable, type OnApplicationShutdown } from '@nestjs/common';
import pg from 'pg';
import { ENV, type Env } from '../../config/env.js';

/** The narrow login: people, sessions and keys. It sees who is who, and nothing that an organisation owns. */
@Injectable()
export class Gate implements OnApplicationShutdown {
  private readonly pool: pg.Pool;

  constructor(@Inject(ENV) env: Env) {
    this.pool = new pg.Pool({
      connectionString: env.DATABASE_GATE_URL,
      max: 5,
      connectionTimeoutMillis: 5_000,
      statement_timeout: 10_000,
    });
    this.pool.on('error', () => undefined);
  }

  /** @param name of a statement that is asked with every request: a connection plans it once */
  async query<T extends pg.QueryResultRow>(text: string, values: unknown[], name?: string): Promise<T[]> {
    const { rows } = await this.pool.query<T>(name === undefined ? { text, values } : { name, text, values });
    return rows;
  }

  async onApplicationShutdown(): Promise<void> {
    await this.pool.end();
  }
}
