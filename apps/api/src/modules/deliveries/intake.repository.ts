import { createHash } from 'node:crypto';
import { Inject, Injectable, Logger, type OnApplicationShutdown } from '@nestjs/common';
import pg from 'pg';
import { ENV, type Env } from '../../config/env.js';
import type { SqlTransaction } from '../../platform/sql/sql-transaction.js';

/** One transaction at a time writes; the second connection is for the moment in which the first is found broken. */
const CONNECTIONS = 2;
const CONNECT_MS = 3_000;
const STATEMENT_MS = 20_000;
const names = new Map<string, string>();

function nameOf(text: string): string {
  let name = names.get(text);
  if (name === undefined) names.set(text, (name = createHash('sha256').update(text).digest('base64url').slice(0, 20)));
  return name;
}

/** `opening` is sent ahead of the first statement, without waiting for its answer. */
function sqlOf(client: pg.PoolClient, opening: string): SqlTransaction {
  let ahead: string | null = opening;
  return {
    rows: async <T>(text: string, values: readonly unknown[]) => {
      const opened = ahead === null ? undefined : client.query(ahead);
      ahead = null;
      const [{ rows }] = await Promise.all([client.query({ name: nameOf(text), text, values: [...values] }), opened]);
      return rows as T[];
    },
  };
}

export const sqlStateOf = (error: unknown): string =>
  typeof error === 'object' && error !== null && 'code' in error && typeof error.code === 'string' ? error.code : '';

/** Connections of the intake's own: a flood of people never makes a gateway wait, nor the other way. */
@Injectable()
export class IntakeRepository implements OnApplicationShutdown {
  private readonly log = new Logger(IntakeRepository.name);
  private readonly pool: pg.Pool;

  constructor(@Inject(ENV) env: Env) {
    this.pool = new pg.Pool({
      connectionString: env.DATABASE_URL,
      max: CONNECTIONS,
      connectionTimeoutMillis: CONNECT_MS,
      statement_timeout: STATEMENT_MS,
      query_timeout: STATEMENT_MS + 5_000,
      idle_in_transaction_session_timeout: STATEMENT_MS,
      // Statements that need no answer of each other share a turn.
      pipeline: true,
      // Every statement finds its rows by key, in thirty monthly tables: planned once, and never by reading a table that happened to
      // be empty when it was planned.
      options: '-c plan_cache_mode=force_generic_plan -c enable_seqscan=off',
      application_name: 'kedge-intake',
    });
    // A connection that breaks says so on itself, also between two statements of a transaction: unheard, that would end the process.
    this.pool.on('connect', (client) => {
      client.on('error', (error) => this.log.warn(`a connection was lost: ${error.message}`));
    });
    this.pool.on('error', () => undefined);
  }

  /**
   * Writes all groups in one transaction, each as a source of its organisation; on return they are on disk. null when `write` gave
   * null for one of them: then nothing was written.
   */
  async inTransaction<G extends { readonly organisationId: string }, R>(
    groups: readonly G[],
    write: (sql: SqlTransaction, group: G) => Promise<R | null>,
  ): Promise<R[] | null> {
    const client = await this.pool.connect();
    let broken: Error | undefined;
    try {
      const results: R[] = [];
      for (const [index, group] of groups.entries()) {
        // One message for both; an organisation's id comes from the gate and is a UUID.
        const opening = `${index === 0 ? 'BEGIN;' : ''} ${beSource(client.escapeLiteral(group.organisationId))}`;
        const done = await write(sqlOf(client, opening), group);
        if (done === null) {
          broken = await this.rollBack(client);
          return null;
        }
        results.push(done);
      }
      const { command } = await client.query('COMMIT');
      if (command !== 'COMMIT') throw new Error(`a commit ended as ${command}`);
      return results;
    } catch (error) {
      broken = error instanceof Error ? error : new Error(String(error));
      if (sqlStateOf(error).length === 5) broken = await this.rollBack(client);
      throw error;
    } finally {
      // A connection that did not take the ROLLBACK is thrown away.
      client.release(broken);
    }
  }

  private async rollBack(client: pg.PoolClient): Promise<Error | undefined> {
    try {
      await client.query('ROLLBACK');
      return undefined;
    } catch (error) {
      return error instanceof Error ? error : new Error(String(error));
    }
  }

  async onApplicationShutdown(): Promise<void> {
    await this.pool.end();
  }
}

/** The role and the organisation of what follows, for this transaction alone. */
const beSource = (organisationId: string): string =>
  `SELECT set_config('role', 'org_staff', true), set_config('app.organisation_id', ${organisationId}, true),
          set_config('app.customer_id', '', true), set_config('app.user_id', '', true), set_config('app.role', 'source', true)`;
