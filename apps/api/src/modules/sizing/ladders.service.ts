import { Injectable } from '@nestjs/common';
import { proveCircuit, type PressureLadderResult } from '@repo/calc';
import { nowOnAnyClock } from '../../platform/clock/tolerance.js';
import { ControlFactsRepository } from './control-facts.repository.js';
import { LadderFactsRepository } from './ladder-facts.repository.js';
import { toLadderInput, type Basis, type CircuitLadder } from './ladder-input.js';

export interface ComputedLadder extends CircuitLadder {
  result: PressureLadderResult;
}

/** The pressure ladders of circuits, computed from what is recorded, as on one instant. */
@Injectable()
export class LaddersService {
  constructor(
    private readonly repository: LadderFactsRepository,
    private readonly controls: ControlFactsRepository,
  ) {}

  async compute(circuitIds: readonly string[], basis: Basis, asOn?: Date): Promise<ComputedLadder[]> {
    const at = asOn ?? nowOnAnyClock();
    const facts = await this.repository.read(circuitIds, at);
    const machineIds = [...new Set(facts.circuits.map(({ machineId }) => machineId))];
    const control = await this.controls.read(machineIds, at);
    return facts.circuits.map((circuit) => {
      const ladder = toLadderInput(facts, control, circuit, basis);
      return { ...ladder, result: proveCircuit(ladder.input) };
    });
  }
}
