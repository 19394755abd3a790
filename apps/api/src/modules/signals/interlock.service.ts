import { Injectable } from '@nestjs/common';
import { INTERLOCK_FAULTS, toInterlock, type InterlockProofInput, type InterlockProofResult } from '@repo/calc';
import { fromInterlockProof, type Interlock } from '@repo/contracts';
import { ComputePool } from '../../platform/compute/index.js';
import { notFound } from '../../platform/errors/app-error.js';
import { CircuitProofsService } from '../sizing/index.js';

const THREAD = new URL('./interlock.thread.js', import.meta.url);

type KnownCircuit = NonNullable<ReturnType<typeof toInterlock>['proof']>;

/** The interlock of a whole machine, with every fault by itself. */
@Injectable()
export class InterlockService {
  constructor(
    private readonly circuitProofs: CircuitProofsService,
    private readonly pool: ComputePool,
  ) {}

  async prove(machineId: string): Promise<Interlock> {
    const control = await this.circuitProofs.controlOf(machineId);
    if (control === undefined) throw notFound();
    const circuits = control.circuits.map(({ id }) => toInterlock(control, id));
    // Each proof begins with its own circuit.
    const known = circuits.flatMap(({ proof }) => (proof === null ? [] : [proof]));
    const missing = circuits.flatMap((circuit) => circuit.missing);
    const none = { field: 'circuits', ref: null };
    return {
      proof: known.length === 0 ? null : await this.proveAll(known),
      missing: circuits.length === 0 ? [none] : missing,
    };
  }

  private async proveAll(known: readonly KnownCircuit[]): Promise<Interlock['proof']> {
    const stations = known.flatMap(({ stations: [own] }) => (own === undefined ? [] : [own]));
    const [{ machine }] = known as [KnownCircuit];
    const input: InterlockProofInput = { stations, machine, faults: INTERLOCK_FAULTS };
    return fromInterlockProof(await this.pool.run<InterlockProofResult>(THREAD, input));
  }
}
