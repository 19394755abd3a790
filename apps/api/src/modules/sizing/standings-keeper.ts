import { setTimeout as delay } from 'node:timers/promises';
import { Inject, Injectable, Logger, type OnApplicationBootstrap } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';
import { ConsequencesService } from './consequences.service.js';
import { StandingsKeeperRepository } from './standings-keeper.repository.js';

/** Circuits of one transaction. */
const AT_ONCE = 100;

/**
 * Computes what nobody else will: circuits that another version of the calculations computed, after the product was brought up to date,
 * and circuits that wait while no job of their organisation is under way. Any number of processes may do so at once.
 */
@Injectable()
export class StandingsKeeper implements OnApplicationBootstrap {
  private readonly log = new Logger(StandingsKeeper.name);
  private readonly ending = new AbortController();
  private running: Promise<void> = Promise.resolve();

  constructor(
    @Inject(ENV) private readonly env: Env,
    private readonly repository: StandingsKeeperRepository,
    private readonly consequences: ConsequencesService,
  ) {}

  onApplicationBootstrap(): void {
    if (this.env.WORKER === 'off') return;
    this.running = this.keep();
    this.repository.closeAfter(async () => {
      this.ending.abort();
      await this.running;
    });
  }

  private async keep(): Promise<void> {
    const { signal } = this.ending;
    while (!signal.aborted) {
      // A pause that is cut short by the end is no fault.
      await delay(this.env.STANDINGS_LOOK_MS, undefined, { ref: false, signal }).catch(() => undefined);
      if (!signal.aborted) await this.round();
    }
  }

  private async round(): Promise<void> {
    try {
      for (const id of await this.repository.listOrganisations())
        while (!this.ending.signal.aborted && (await this.refreshSome(id)) === AT_ONCE);
    } catch (error) {
      this.log.warn(`standings wait for the next round: ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  /** @returns how many circuits that were */
  private refreshSome(organisationId: string): Promise<number> {
    return this.repository.within(organisationId, async () => {
      const circuitIds = await this.consequences.listForgotten(AT_ONCE);
      await this.consequences.refresh(circuitIds);
      return circuitIds.length;
    });
  }
}
