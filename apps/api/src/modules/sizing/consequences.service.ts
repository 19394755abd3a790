import { Inject, Injectable } from '@nestjs/common';
import { Audit, type AuditFact } from '../../platform/audit/audit.js';
import { chunksOf } from '../../platform/one-ahead.js';
import { JobQueue } from '../../platform/queue/index.js';
import { StandingsBook } from '../standings/index.js';
import type { Dependency } from './dependency.js';
import { CircuitProofsService, type ProvedCircuit } from './circuit-proofs.service.js';
import { CurrenciesRepository } from './currencies.repository.js';
import { DependenciesRepository, type Change } from './dependencies.repository.js';
import { toCanonicalInput } from './sizing-document.js';

/** What was written, as the audit trail tells it and as proofs look it up. */
export interface Added extends Change {
  done: AuditFact;
}

/** Circuits computed in one go: keeps memory flat when a change bears on thousands. */
const CHUNK = 500;
/** Records compared in one go: the input of each is some ten kilobytes of text. */
const COMPARED_AT_ONCE = 20;

/** So many circuits are computed in the request that changed something; more are left to a job that is enqueued with it. */
export const MOST_AT_ONCE = Symbol('most circuits computed within a request');

/**
 * What follows from a change, in the same transaction: sizing records that looked up what it wrote go stale, unless they would be
 * made the same today, and the circuits whose proofs looked it up are computed anew, or, where they are many, a job is enqueued that does it: until it has come to a circuit, its
 * standing is the one before and says so, and the page of jobs shows how far it is. Call it after the change itself is written.
 */
@Injectable()
export class ConsequencesService {
  constructor(
    private readonly dependencies: DependenciesRepository,
    private readonly currencies: CurrenciesRepository,
    private readonly standings: StandingsBook,
    private readonly circuitProofs: CircuitProofsService,
    private readonly audit: Audit,
    private readonly queue: JobQueue,
    @Inject(MOST_AT_ONCE) private readonly mostAtOnce: number,
  ) {}

  /**
   * @param fact what was done, for the audit trail and as the reason of what goes stale
   * @param touched what it wrote, as proofs look it up
   * @param more facts for the audit trail that belong to the same change
   */
  async of(fact: AuditFact, touched: readonly Dependency[], ...more: AuditFact[]): Promise<void> {
    await this.ofAll([{ done: fact, touched }], ...more);
  }

  /** The same of many records that were written in one go: every circuit is computed once. */
  async ofAll(added: readonly Added[], ...more: AuditFact[]): Promise<void> {
    await this.audit.record(...more, ...added.map(({ done }) => done));
    const circuitIds = await this.follow(added);
    if (circuitIds.length <= this.mostAtOnce) await this.refresh(circuitIds);
    else await this.leaveToJob(circuitIds);
  }

  /**
   * Marks what looked these things up as stale, and says which circuits are to be computed anew. From here to the end of the
   * transaction nobody else changes or computes what hangs together with it.
   */
  async follow(changes: readonly Change[]): Promise<string[]> {
    const all = changes.flatMap(({ touched }) => touched);
    await this.dependencies.lock(all);
    await this.dependencies.markStale(changes);
    return this.dependencies.findReached(all);
  }

  /** Circuits that a job computes anew, enqueued in this transaction; until it comes to one, that one says that it waits. */
  async leaveToJob(circuitIds: readonly string[]): Promise<void> {
    await this.standings.markAwaiting(circuitIds);
    await this.queue.start('standings-refresh', {});
  }

  /** How many circuits wait to be computed. */
  countAwaiting(): Promise<number> {
    return this.standings.countAwaiting();
  }

  /** Circuits that wait while nobody is at work on them, or that another version of the calculations computed. */
  listForgotten(limit: number): Promise<string[]> {
    return this.standings.listForgotten(limit);
  }

  /** Circuits that wait to be computed, at most so many, in order of their ids. */
  listAwaiting(after: string | null, limit: number): Promise<string[]> {
    return this.standings.listAwaiting(after, limit);
  }

  /**
   * Computes circuits anew and keeps the lists and the search in step.
   * @param tell called after each part with the number done so far
   */
  async refresh(circuitIds: readonly string[], tell?: (done: number) => Promise<void>): Promise<void> {
    for (let start = 0; start < circuitIds.length; start += CHUNK) {
      const chunk = circuitIds.slice(start, start + CHUNK);
      await this.dependencies.lockCircuits(chunk);
      const proved = await this.circuitProofs.compute(chunk, 'as-left');
      await this.dependencies.replace(
        proved.map(({ place, dependencies, placeDependencies }) => ({
          circuitId: place.circuitId,
          customerId: place.customerId,
          dependencies: [...dependencies, ...placeDependencies],
        })),
      );
      await this.standings.keep(chunk, proved);
      await this.restore(chunk, proved);
      await tell?.(start + chunk.length);
    }
  }

  /** Stale records that would be made the same today are current again: something else was changed, or what was changed is back. */
  private async restore(circuitIds: readonly string[], proved: readonly ProvedCircuit[]): Promise<void> {
    const stale = await this.currencies.listStale(circuitIds);
    if (stale.length === 0) return;
    const asLeft = new Map(proved.map(({ place, facts }) => [place.circuitId, facts]));
    const onTarget = stale.filter(({ basis }) => basis === 'target').map(({ circuitId }) => circuitId);
    const target = onTarget.length === 0 ? asLeft : await this.circuitProofs.readFacts(onTarget, 'target');
    for (const part of chunksOf(stale, COMPARED_AT_ONCE)) {
      await this.currencies.restore(
        part.flatMap(({ id, circuitId, basis }) => {
          const facts = (basis === 'target' ? target : asLeft).get(circuitId);
          return facts === undefined ? [] : [{ id, input: toCanonicalInput(facts) }];
        }),
      );
    }
  }
}
