import { createHash } from 'node:crypto';
import { Inject, Injectable, Logger, type OnModuleDestroy } from '@nestjs/common';
import pg from 'pg';
import { ENV, type Env } from '../../config/env.js';
import { groupBy } from '../../platform/group-by.js';
import type { CountsSql } from './counts-sql.js';
import { readMachines, RememberedMachines } from './known-machines.js';
import type { Delivery } from './place-reports.js';
import { takeIn, type GatewayRules, type OfOrganisation, type Outcome } from './take-in.js';
import { placeAtOnce, takeInAtOnce, type AtOnce } from './take-in-at-once.js';

/** One transaction at a time writes; the second connection is for the moment in which the first is found broken. */
const CONNECTIONS = 2;
const CONNECT_MS = 3_000;
const STATEMENT_MS = 20_000;
const TRIES = 3;
const HEARD_EVERY_MS = 1_000;
const MOST_HEARD = 10_000;
/** After a group that could not be taken in at once, others are not tried that way for so long. */
const STEPWISE_MS = 250;
/** Two writers met crosswise, or a connection was told to start over: the same again works. */
const MET = new Set(['40001', '40P01']);
const names = new Map<string, string>();

function nameOf(text: string): string {
  let name = names.get(text);
  if (name === undefined) names.set(text, (name = createHash('sha256').update(text).digest('base64url').slice(0, 20)));
  return name;
}

/** `opening` is sent ahead of the first statement, without waiting for its answer. */
function sqlOf(client: pg.PoolClient, opening: string): CountsSql {
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

/** Writes groups of deliveries through connections of its own: a flood of people never makes a gateway wait, nor the other way. */
@Injectable()
export class IntakeRepository implements OnModuleDestroy {
  private readonly log = new Logger(IntakeRepository.name);
  private readonly pool: pg.Pool;
  private readonly heardAtMs = new Map<string, number>();
  private readonly remembered = new RememberedMachines();
  private atOnceFromMs = 0;

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

  /** Commits deliveries of any organisations in one transaction; on return they are on disk. */
  async commit(deliveries: readonly Delivery[], rules: GatewayRules): Promise<Outcome[]> {
    const outcomes = await this.tryAtOnce(deliveries, rules);
    if (outcomes !== null) return outcomes;
    for (let left = TRIES; ; left -= 1) {
      try {
        const all = await this.tryToCommit(this.byOrganisation(deliveries), async (sql, of) => {
          const machines = await readMachines(sql, of.organisationId, of.deliveries);
          this.remembered.keep(machines);
          return takeIn(sql, of, machines, rules);
        });
        return deliveries.map((delivery) => all?.get(delivery) as Outcome);
      } catch (error) {
        if (left === 1 || !MET.has(sqlStateOf(error))) throw error;
      }
    }
  }

  /** What goes by what is remembered goes in one turn; null when it did not, and nothing was written. */
  private async tryAtOnce(deliveries: readonly Delivery[], rules: GatewayRules): Promise<Outcome[] | null> {
    if (performance.now() < this.atOnceFromMs) return null;
    const groups: AtOnce[] = [];
    for (const of of this.byOrganisation(deliveries)) {
      const remembered = this.remembered.find(of.deliveries);
      const group = remembered === null ? null : placeAtOnce(of, remembered);
      if (group === null) return null;
      groups.push(group);
    }
    try {
      const outcomes = await this.tryToCommit(groups, (sql, group) => takeInAtOnce(sql, group, rules));
      if (outcomes !== null) return deliveries.map((delivery) => outcomes.get(delivery) as Outcome);
    } catch (error) {
      // What the database refuses, it may take step by step; a connection that broke is somebody else's to tell.
      if (sqlStateOf(error).length !== 5) throw error;
    }
    this.atOnceFromMs = performance.now() + STEPWISE_MS;
    return null;
  }

  /** Always in the same order: two processes never wait for each other crosswise. */
  private byOrganisation(deliveries: readonly Delivery[]): OfOrganisation[] {
    return [...groupBy(deliveries, (delivery) => delivery.organisationId)]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([organisationId, own]) => ({
        organisationId,
        deliveries: own,
        unheard: own.filter(({ sourceId }) => this.isUnheard(sourceId)),
      }));
  }

  /** All groups in one transaction; null when one of them was not taken in: then none was. */
  private async tryToCommit<G extends OfOrganisation>(
    groups: readonly G[],
    take: (sql: CountsSql, group: G) => Promise<Outcome[] | null>,
  ): Promise<Map<Delivery, Outcome> | null> {
    const client = await this.pool.connect();
    let broken: Error | undefined;
    try {
      const outcomes = new Map<Delivery, Outcome>();
      for (const [index, group] of groups.entries()) {
        // One message for both; an organisation's id comes from the gate and is a UUID.
        const opening = `${index === 0 ? 'BEGIN;' : ''} ${beSource(client.escapeLiteral(group.organisationId))}`;
        const done = await take(sqlOf(client, opening), group);
        if (done === null) {
          broken = await this.rollBack(client);
          return null;
        }
        for (const [at, outcome] of done.entries()) outcomes.set(group.deliveries[at] as Delivery, outcome);
      }
      const { command } = await client.query('COMMIT');
      if (command !== 'COMMIT') throw new Error(`a commit ended as ${command}`);
      this.markHeard(groups.flatMap(({ deliveries }) => deliveries));
      return outcomes;
    } catch (error) {
      broken = error instanceof Error ? error : new Error(String(error));
      if (sqlStateOf(error).length === 5) broken = await this.rollBack(client);
      throw error;
    } finally {
      // A connection that did not take the ROLLBACK is thrown away.
      client.release(broken);
    }
  }

  /** Whether to write when a source was heard: once a second is enough, and keeps others of its gateway from waiting for the row. */
  private isUnheard(sourceId: string): boolean {
    return performance.now() - (this.heardAtMs.get(sourceId) ?? -Infinity) >= HEARD_EVERY_MS;
  }

  private markHeard(deliveries: readonly Delivery[]): void {
    if (this.heardAtMs.size > MOST_HEARD) this.heardAtMs.clear();
    for (const { sourceId } of deliveries) {
      if (this.isUnheard(sourceId)) this.heardAtMs.set(sourceId, performance.now());
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

  async onModuleDestroy(): Promise<void> {
    await this.pool.end();
  }
}

/** The role and the organisation of what follows, for this transaction alone. */
const beSource = (organisationId: string): string =>
  `SELECT set_config('role', 'org_staff', true), set_config('app.organisation_id', ${organisationId}, true),
          set_config('app.customer_id', '', true), set_config('app.user_id', '', true), set_config('app.role', 'source', true)`;
