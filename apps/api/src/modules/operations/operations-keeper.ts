import { Injectable, type OnApplicationBootstrap } from '@nestjs/common';
import { Rounds } from '../../platform/rounds/index.js';
import { OperationsService } from './operations.service.js';

/**
 * Computes operations anew that another version of the calculations computed, after the product was brought up to date: what holds a
 * workpiece by yesterday's reckoning may not by today's.
 */
@Injectable()
export class OperationsKeeper implements OnApplicationBootstrap {
  constructor(
    private readonly rounds: Rounds,
    private readonly operations: OperationsService,
  ) {}

  onApplicationBootstrap(): void {
    this.rounds.begin('operations', () => this.operations.recomputeOutdated());
  }
}
