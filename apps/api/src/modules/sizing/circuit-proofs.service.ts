import { Injectable } from '@nestjs/common';
import type { CircuitFacts, ControlFacts, PressureLadderResult } from '@repo/calc';
import { isRight } from '@repo/calc/checks';
import { toPressureLadder, fromWayOut, type InputOf, type routes } from '@repo/contracts';
import { notFound } from '../../platform/errors/app-error.js';
import { nowOnAnyClock } from '../../platform/clock/tolerance.js';
import { chunksOf } from '../../platform/one-ahead.js';
import type { Dependency } from './dependency.js';
import { FactsReading, type Basis, type CircuitPlace, type SettingsInUse } from './facts-reading.js';
import { FactsRepository } from './facts.repository.js';
import { ProofsService } from './proofs.service.js';

/** Circuits a turn in the threads: stiff ones take a quarter of a second each. */
const AT_ONCE = 5;

/** A proof, what it was computed from, and what was looked up for it. */
export interface ProvedCircuit {
  facts: CircuitFacts;
  settings: SettingsInUse;
  dependencies: Dependency[];
  result: PressureLadderResult;
  /** what lists show beside it; it has dependencies of its own, for a name is no figure of the proof */
  place: CircuitPlace;
  placeDependencies: Dependency[];
}

/** As which day, and by which settings; the way out asks as the pressure ladder does. */
type OfCircuit = InputOf<typeof routes.circuits.pressureLadder | typeof routes.circuits.wayOut>['query'];

/** The pressure ladders of circuits with all their checks, computed from what is recorded, as on one instant. */
@Injectable()
export class CircuitProofsService {
  constructor(
    private readonly repository: FactsRepository,
    private readonly proofs: ProofsService,
  ) {}

  async compute(circuitIds: readonly string[], basis: Basis, asOn?: Date): Promise<ProvedCircuit[]> {
    const facts = await this.repository.ofCircuits(circuitIds, asOn ?? nowOnAnyClock());
    const { organisationId } = this.repository;
    const there = circuitIds.filter((id) => facts.circuit.has(id));
    const proved: ProvedCircuit[] = [];
    for (const ids of chunksOf(there, AT_ONCE)) {
      const read = ids.map((id) => {
        const reading = new FactsReading(facts);
        const placing = new FactsReading(facts);
        const circuit = reading.circuit(id, basis, organisationId);
        const place = placing.place(id);
        return { ...circuit, dependencies: reading.dependencies, place, placeDependencies: placing.dependencies };
      });
      const results = await this.proofs.prove({ facts: read.map((circuit) => circuit.facts) });
      proved.push(...read.map((circuit, index) => ({ ...circuit, result: results[index] as PressureLadderResult })));
    }
    return proved;
  }

  /** What the proofs of circuits would be computed from now. */
  async readFacts(circuitIds: readonly string[], basis: Basis): Promise<Map<string, CircuitFacts>> {
    const facts = await this.repository.ofCircuits(circuitIds, nowOnAnyClock());
    const { organisationId } = this.repository;
    const there = circuitIds.filter((id) => facts.circuit.has(id));
    return new Map(there.map((id) => [id, new FactsReading(facts).circuit(id, basis, organisationId).facts]));
  }

  /** The pressure ladder of one circuit, as a page shows it. */
  async ofCircuit(circuitId: string, query: OfCircuit) {
    const { settings, result } = await this.computeOne(circuitId, query);
    return {
      settings: { ...settings, on: settings.on?.toISOString() ?? null },
      ladder: toPressureLadder(result),
    };
  }

  /** What makes every check of a circuit hold; nothing where each does. It takes far longer than the proof: only who shows it asks for it. */
  async findWayOut(circuitId: string, query: OfCircuit) {
    const { facts, result } = await this.computeOne(circuitId, query);
    return { wayOut: isRight(result) ? null : fromWayOut(await this.proofs.findWayOut(facts)) };
  }

  private async computeOne(circuitId: string, { basis, asOn }: OfCircuit): Promise<ProvedCircuit> {
    const [circuit] = await this.compute([circuitId], basis, asOn === undefined ? undefined : new Date(asOn));
    if (circuit === undefined) throw notFound();
    return circuit;
  }

  /** The control of a machine with every circuit of it, as it is now. */
  async controlOf(machineId: string): Promise<ControlFacts | undefined> {
    const facts = await this.repository.ofMachines([machineId], nowOnAnyClock());
    return facts.machine.has(machineId) ? new FactsReading(facts).control(machineId) : undefined;
  }
}
