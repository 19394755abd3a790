import { Injectable } from '@nestjs/common';
import { INTERLOCK_FAULTS, interlockProof } from '@repo/calc';
import { fromInterlockProof, type Interlock } from '@repo/contracts';
import { nowOnAnyClock } from '../../platform/clock/tolerance.js';
import { notFound } from '../../platform/errors/app-error.js';
import { ControlFactsRepository, toInterlock } from '../sizing/index.js';

/** The interlock of a whole machine, with every fault by itself. */
@Injectable()
export class InterlockService {
  constructor(private readonly controls: ControlFactsRepository) {}

  async prove(machineId: string): Promise<Interlock> {
    const control = await this.controls.read([machineId], nowOnAnyClock());
    if (control.machines.length === 0) throw notFound();
    const circuits = control.circuits.map(({ id }) => toInterlock(control, id));
    // Each proof holds all circuits that are known: any of them will do.
    const known = circuits.find(({ proof }) => proof !== null)?.proof ?? null;
    const missing = circuits.flatMap((circuit) => circuit.missing);
    const none = { field: 'circuits', ref: null };
    return {
      proof:
        known === null
          ? null
          : fromInterlockProof(
              interlockProof({ stations: known.stations, machine: known.machine, faults: INTERLOCK_FAULTS }),
            ),
      missing: circuits.length === 0 ? [none] : missing,
    };
  }
}
