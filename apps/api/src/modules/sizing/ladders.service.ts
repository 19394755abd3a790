import { Injectable } from '@nestjs/common';
import type { PressureLadderResult } from '@repo/calc';
import { nowOnAnyClock } from '../../platform/clock/tolerance.js';
import { chunksOf } from '../../platform/one-ahead.js';
import { ControlFactsRepository } from './control-facts.repository.js';
import { LadderFactsRepository } from './ladder-facts.repository.js';
import { toLadderInput, type Basis, type CircuitLadder } from './ladder-input.js';
import { ProofsService } from './proofs.service.js';

/** Circuits a turn in the threads: stiff ones take a quarter of a second each. */
const AT_ONCE = 5;

export interface ComputedLadder extends CircuitLadder {
  result: PressureLadderResult;
}

/** The pressure ladders of circuits, computed from what is recorded, as on one instant. */
@Injectable()
export class LaddersService {
  constructor(
    private readonly repository: LadderFactsRepository,
    private readonly controls: ControlFactsRepository,
    private readonly proofs: ProofsService,
  ) {}

  async compute(circuitIds: readonly string[], basis: Basis, asOn?: Date): Promise<ComputedLadder[]> {
    const at = asOn ?? nowOnAnyClock();
    const facts = await this.repository.read(circuitIds, at);
    const machineIds = [...new Set(facts.circuits.map(({ machineId }) => machineId))];
    const control = await this.controls.read(machineIds, at);
    const computed: ComputedLadder[] = [];
    for (const circuits of chunksOf(facts.circuits, AT_ONCE)) {
      const ladders = circuits.map((circuit) => toLadderInput(facts, control, circuit, basis));
      const results = await this.proofs.prove({ circuits: ladders.map(({ input }) => input) });
      computed.push(...ladders.map((ladder, index) => ({ ...ladder, result: results[index] as PressureLadderResult })));
    }
    return computed;
  }
}
