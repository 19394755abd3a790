import { Injectable, type OnApplicationBootstrap } from '@nestjs/common';
import { Rounds } from '../../platform/rounds/index.js';
import { ConsequencesService } from './consequences.service.js';

/** Circuits of one transaction. */
const AT_ONCE = 100;

/**
 * Computes what nobody else will: circuits that another version of the calculations computed, after the product was brought up to date,
 * and circuits that wait while no job of their organisation is under way.
 */
@Injectable()
export class StandingsKeeper implements OnApplicationBootstrap {
  constructor(
    private readonly rounds: Rounds,
    private readonly consequences: ConsequencesService,
  ) {}

  onApplicationBootstrap(): void {
    this.rounds.begin('standings', () => this.refreshSome());
  }

  private async refreshSome(): Promise<boolean> {
    const circuitIds = await this.consequences.listForgotten(AT_ONCE);
    await this.consequences.refresh(circuitIds);
    return circuitIds.length === AT_ONCE;
  }
}
