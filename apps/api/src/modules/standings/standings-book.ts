import { Injectable } from '@nestjs/common';
import { CALCULATION_VERSION } from '@repo/calc';
import { NOT_COMPUTED, toStanding, type StandingProof } from './standing-summary.js';
import { StandingsBookRepository } from './standings-book.repository.js';

/** Writes down how circuits stand, for whoever proves them; in the caller's transaction. */
@Injectable()
export class StandingsBook {
  constructor(private readonly repository: StandingsBookRepository) {}

  /**
   * Keeps the lists and the search in step with proofs.
   * @param circuitIds all that were to be proved; those of machines that are archived or have departed stand nowhere
   */
  async keep(circuitIds: readonly string[], proofs: readonly StandingProof[]): Promise<void> {
    await this.repository.upsert(proofs.map(toStanding));
    await this.repository.removeDeparted(circuitIds);
    await this.repository.refreshTokens(circuitIds);
  }

  /** Circuits that somebody will compute anew: until then each says that it waits. */
  markAwaiting(circuitIds: readonly string[]): Promise<void> {
    return this.repository.markAwaiting(circuitIds, NOT_COMPUTED);
  }

  /** How many circuits wait to be computed. */
  countAwaiting(customerId?: string): Promise<number> {
    return this.repository.countAwaiting(customerId);
  }

  /** Circuits that wait while nobody is at work on them, or that another version of the calculations computed. */
  listForgotten(limit: number): Promise<string[]> {
    return this.repository.listForgotten(CALCULATION_VERSION, limit);
  }

  /** Circuits that wait to be computed, at most so many, in order of their ids. */
  listAwaiting(after: string | null, limit: number): Promise<string[]> {
    return this.repository.listAwaiting(after, limit);
  }
}
