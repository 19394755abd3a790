import { AsyncLocalStorage } from 'node:async_hooks';
import { Inject, Injectable, type OnApplicationShutdown, type OnModuleDestroy } from '@nestjs/common';
import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { ENV, type Env } from '../../config/env.js';
import type { Actor } from '../auth/actor.js';
import type { Share } from '../fair-line.js';
import type { SqlTransaction } from '../sql/sql-transaction.js';
import { ConnectionPlaces } from './connection-places.js';
import { PrismaClient, type Prisma } from './generated/client.js';
import { Opening, ScopedClient } from './scoped-client.js';

export type Transaction = Prisma.TransactionClient;

export interface RequestContext {
  readonly actor: Actor;
  readonly tx: Transaction;
  /** the same transaction, for statements that are sent as they are written */
  readonly sql: SqlTransaction;
  readonly requestId: string;
}

/** Who a transaction speaks for. `role` decides what the database lets it write. */
export interface Scope {
  readonly organisationId: string;
  readonly customerId: string | null;
  readonly role: string;
  /** the person, where there is one */
  readonly userId?: string;
}

/** How long a request's transaction, each of its statements, and a pause in it may take. */
const REQUEST_MS = 60_000;
/** How long a request waits for a row that somebody else is changing; then it is told to come again. */
const LOCK_MS = 5_000;

export interface TransactionOptions {
  readonly longMs?: number;
  readonly readOnly?: boolean;
}

interface Connections {
  readonly pool: pg.Pool;
  readonly prisma: PrismaClient;
  readonly places: ConnectionPlaces;
}

/** Connections that no request takes: of the readers for the look whether the database is there, of the writers for jobs. */
const KEPT_FREE = { readers: 1, writers: 2 };

function connect(env: Env, keptFree: number): Connections {
  const pool = new pg.Pool({
    connectionString: env.DATABASE_URL,
    max: env.DATABASE_POOL,
    connectionTimeoutMillis: 5_000,
    statement_timeout: REQUEST_MS,
    idle_in_transaction_session_timeout: REQUEST_MS,
    Client: ScopedClient,
    // What begins a transaction goes out with its first statement.
    pipeline: true,
  });
  // A broken idle connection is thrown away by the pool; the next request gets a new one or a 503.
  pool.on('error', () => undefined);
  const places = new ConnectionPlaces(Math.max(1, env.DATABASE_POOL - keptFree));
  return { pool, prisma: new PrismaClient({ adapter: new PrismaPg(pool) }), places };
}

/**
 * The door to tenant data. Every transaction first takes one of the two request roles and names its organisation (and
 * customer) for just that transaction; the login itself can read nothing.
 */
@Injectable()
export class Db implements OnModuleDestroy, OnApplicationShutdown {
  private readonly users: (() => Promise<void>)[] = [];
  private readonly context = new AsyncLocalStorage<RequestContext>();
  /** Those that write may wait for each other's rows; those that read must never wait behind them for a connection. */
  private readonly writers: Connections;
  private readonly readers: Connections;

  constructor(@Inject(ENV) env: Env) {
    this.writers = connect(env, KEPT_FREE.writers);
    this.readers = connect(env, KEPT_FREE.readers);
  }

  /**
   * Runs `work` in one transaction of this scope; commits with it, rolls back with its error.
   * `longMs` is for work in the background: how long the transaction and each of its statements may take, and how long it waits for a
   * row. `readOnly` is for what changes nothing: it has connections of its own.
   */
  async transaction<T>(
    scope: Scope,
    work: (tx: Transaction, sql: SqlTransaction) => Promise<T>,
    { longMs, readOnly = false }: TransactionOptions = {},
  ): Promise<T> {
    const limitMs = longMs ?? REQUEST_MS;
    const databaseRole = scope.customerId === null ? 'org_staff' : 'org_customer';
    const { prisma } = readOnly ? this.readers : this.writers;
    const opening = new Opening({
      role: databaseRole,
      'app.organisation_id': scope.organisationId,
      'app.customer_id': scope.customerId ?? '',
      'app.user_id': scope.userId ?? '',
      'app.role': scope.role,
      transaction_read_only: readOnly ? 'on' : 'off',
      lock_timeout: String(longMs ?? LOCK_MS),
      statement_timeout: String(limitMs),
      idle_in_transaction_session_timeout: String(limitMs),
    });
    const limits = { maxWait: longMs === undefined ? 6_000 : 30_000, timeout: limitMs };
    return opening.run(() => prisma.$transaction((tx) => work(tx, opening), limits));
  }

  /** Runs a request: the transaction of its actor, found again by everything that it calls. */
  async request<T>(
    actor: Actor,
    requestId: string,
    work: () => Promise<T>,
    options: TransactionOptions = {},
  ): Promise<T> {
    const run = () =>
      this.transaction(actor, (tx, sql) => this.context.run({ actor, tx, sql, requestId }, work), options);
    // What holds a connection already would wait for itself; jobs have their own places.
    if (options.longMs !== undefined || this.context.getStore() !== undefined) return run();
    const share: Share = { organisation: actor.organisationId, person: actor.userId };
    return (options.readOnly === true ? this.readers : this.writers).places.hold(share, run);
  }

  /**
   * Runs what nobody's own role may do, such as accepting an invitation: in the name of `actor`, with the rights that the
   * database gives to `role`.
   */
  async requestAs<T>(role: string, actor: Actor, requestId: string, work: () => Promise<T>): Promise<T> {
    return this.transaction({ ...actor, role }, (tx, sql) => this.context.run({ actor, tx, sql, requestId }, work));
  }

  /** Something that must come to rest before the connections are closed. */
  closeAfter(rest: () => Promise<void>): void {
    this.users.push(rest);
  }

  /** The transaction of the running request. */
  get tx(): Transaction {
    return this.current.tx;
  }

  /** The same, for statements that a gateway's transaction runs as well, and for those that are asked most. */
  get sql(): SqlTransaction {
    return this.current.sql;
  }

  get actor(): Actor {
    return this.current.actor;
  }

  get current(): RequestContext {
    const context = this.context.getStore();
    if (context === undefined) throw new Error('no request is running here');
    return context;
  }

  async isReachable(): Promise<boolean> {
    try {
      await this.readers.pool.query('SELECT 1');
      return true;
    } catch (error) {
      if (error instanceof Error) return false;
      throw error;
    }
  }

  async onModuleDestroy(): Promise<void> {
    await Promise.all(this.users.map((rest) => rest()));
  }

  /** Requests that had begun have been answered by then. */
  async onApplicationShutdown(): Promise<void> {
    for (const { prisma, pool } of [this.writers, this.readers]) {
      await prisma.$disconnect();
      if (!pool.ended) await pool.end();
    }
  }
}
