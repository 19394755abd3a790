import { Injectable } from '@nestjs/common';
import { pressureLadder, type PressureLadderResult } from '@repo/calc';
import { LadderFactsRepository } from './ladder-facts.repository.js';
import { toLadderInput, type Basis, type CircuitLadder } from './ladder-input.js';

export interface ComputedLadder extends CircuitLadder {
  result: PressureLadderResult;
}

/** A tablet's clock, or the database's, may run ahead by so much: what it dated "now" counts as of now. */
const CLOCK_TOLERANCE_MS = 5 * 60_000;

/** The pressure ladders of circuits, computed from what is recorded, as on one instant. */
@Injectable()
export class LaddersService {
  constructor(private readonly repository: LadderFactsRepository) {}

  async compute(circuitIds: readonly string[], basis: Basis, asOn?: Date): Promise<ComputedLadder[]> {
    const facts = await this.repository.read(circuitIds, asOn ?? new Date(Date.now() + CLOCK_TOLERANCE_MS));
    return facts.circuits.map((circuit) => {
      const ladder = toLadderInput(facts, circuit, basis);
      return { ...ladder, result: pressureLadder(ladder.input) };
    });
  }
}
