import { Inject, Injectable } from '@nestjs/common';
import { Audit, type AuditFact } from '../../platform/audit/audit.js';
import { JobQueue } from '../../platform/queue/index.js';
import { LaddersService } from './ladders.service.js';
import { toStanding } from './standing-summary.js';
import { StandingsRepository } from './standings.repository.js';

/** Circuits computed in one go: keeps memory flat when a change bears on thousands. */
const CHUNK = 500;

/** So many circuits are computed in the request that changed something; more are left to a job that is enqueued with it. */
export const MOST_AT_ONCE = Symbol('most circuits computed within a request');

export interface Change {
  /** what was changed, in the words of sizing dependencies */
  entity: string;
  ids: readonly string[];
  /** in a word or two, for the record that goes stale: `rated-pressure`, `fixture-fitted` … */
  change: string;
}

/**
 * What follows from a change, in the same transaction: sizing records that used it go stale, and the circuits that it bears
 * on are computed anew, or, where they are many, a job is enqueued that does it: until it has come to a circuit, its standing is the
 * one before and says so, and the page of jobs shows how far it is. Call it after the change itself is written.
 */
@Injectable()
export class ConsequencesService {
  constructor(
    private readonly standings: StandingsRepository,
    private readonly ladders: LaddersService,
    private readonly audit: Audit,
    private readonly queue: JobQueue,
    @Inject(MOST_AT_ONCE) private readonly mostAtOnce: number,
  ) {}

  async of(change: Change, ...facts: AuditFact[]): Promise<void> {
    if (facts.length > 0) await this.audit.record(...facts);
    await this.standings.markStale(change.entity, change.ids, change.change);
    const circuitIds = await this.standings.findAffected(change.entity, change.ids);
    if (circuitIds.length <= this.mostAtOnce) await this.refresh(circuitIds);
    else await this.leaveToJob(change, circuitIds);
  }

  /** Circuits that a job computes anew, enqueued in this transaction; until it comes to one, that one says that it waits. */
  async leaveToJob({ entity, ids }: Pick<Change, 'entity' | 'ids'>, circuitIds: readonly string[]): Promise<void> {
    await this.standings.markAwaiting(circuitIds);
    await this.queue.start('standings-refresh', { entity, ids });
  }

  /** The plain case: a record was changed that others hang on by its own id. */
  ofRecord(fact: AuditFact): Promise<void> {
    return this.of({ entity: fact.entity, ids: [fact.entityId], change: fact.action }, fact);
  }

  /** Sizing records that used these things go stale: for changes in bulk, which are followed up together. */
  async markStale({ entity, ids, change }: Change): Promise<void> {
    await this.standings.markStale(entity, ids, change);
  }

  /** Circuits that these things bear on. */
  findAffected(entity: string, ids: readonly string[]): Promise<string[]> {
    return this.standings.findAffected(entity, ids);
  }

  /**
   * Computes circuits anew and keeps the lists and the search in step.
   * @param tell called after each part with the number done so far
   */
  async refresh(circuitIds: readonly string[], tell?: (done: number) => Promise<void>): Promise<void> {
    for (let start = 0; start < circuitIds.length; start += CHUNK) {
      const chunk = circuitIds.slice(start, start + CHUNK);
      const ladders = await this.ladders.compute(chunk, 'as-left');
      await this.standings.upsert(ladders.map((ladder) => toStanding(ladder, ladder.result)));
      await this.standings.removeDeparted(chunk);
      await this.standings.refreshTokens(chunk);
      await tell?.(start + chunk.length);
    }
  }
}
