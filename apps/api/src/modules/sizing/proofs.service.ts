import { Injectable } from '@nestjs/common';
import type { CircuitFacts, PressureLadderResult, WayOut } from '@repo/calc';
import { ComputePool } from '../../platform/compute/index.js';
import type { Proofs } from './proofs.thread.js';

const THREAD = new URL('./proofs.thread.js', import.meta.url);
const WAY_OUT_THREAD = new URL('./way-out.thread.js', import.meta.url);

/** Proofs of circuits, computed in threads. */
@Injectable()
export class ProofsService {
  constructor(private readonly pool: ComputePool) {}

  prove(proofs: Proofs): Promise<PressureLadderResult[]> {
    return this.pool.run<PressureLadderResult[]>(THREAD, proofs);
  }

  findWayOut(facts: CircuitFacts): Promise<WayOut> {
    return this.pool.run<WayOut>(WAY_OUT_THREAD, facts);
  }
}
