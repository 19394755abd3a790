import { setTimeout as delay } from 'node:timers/promises';
import { Inject, Injectable, Logger } from '@nestjs/common';
import { ENV, type Env } from '../../config/env.js';
import { RoundsRepository } from './rounds.repository.js';

/**
 * What is done again and again in the background, for one organisation after the other: each part in a transaction of its own, in the
 * product's name. Any number of processes may do so at once.
 */
@Injectable()
export class Rounds {
  private readonly log = new Logger(Rounds.name);

  constructor(
    @Inject(ENV) private readonly env: Env,
    private readonly repository: RoundsRepository,
  ) {}

  /**
   * Begins the rounds, unless this process is not to work in the background; they end with the connections.
   * @param what in the log
   * @param doSome does a part for an organisation; true: there is more of it
   */
  begin(what: string, doSome: () => Promise<boolean>): void {
    if (this.env.WORKER === 'off') return;
    const ending = new AbortController();
    const running = this.goRound(what, doSome, ending.signal);
    this.repository.closeAfter(async () => {
      ending.abort();
      await running;
    });
  }

  private async goRound(what: string, doSome: () => Promise<boolean>, signal: AbortSignal): Promise<void> {
    while (!signal.aborted) {
      // A pause that is cut short by the end is no fault.
      await delay(this.env.STANDINGS_LOOK_MS, undefined, { ref: false, signal }).catch(() => undefined);
      if (signal.aborted) return;
      try {
        for (const id of await this.repository.listOrganisations())
          while (!signal.aborted && (await this.repository.within(id, doSome)));
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        this.log.warn(`${what} wait for the next round: ${why}`);
      }
    }
  }
}
