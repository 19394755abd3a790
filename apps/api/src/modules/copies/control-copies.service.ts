import { Injectable } from '@nestjs/common';
import {
  createMCodeBodySchema,
  createSignalBodySchema,
  createWireBodySchema,
  type InputOf,
  type routes,
} from '@repo/contracts';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { MCodesService, SignalsService, WiresService } from '../signals/index.js';
import type { Added } from '../sizing/index.js';
import { asBody, idInCopy } from './copying.js';

type Body = Pick<InputOf<(typeof routes.machines)['copy']>['body'], 'id' | 'stations'>;

/** More than a control has. */
const ALL = { cursor: undefined, limit: 10_000 };

/** M-codes, signals and wires of a machine, for a like one. Codes and signals of stations that it does not have are left out. */
@Injectable()
export class ControlCopiesService {
  constructor(
    private readonly circuits: CircuitsService,
    private readonly components: InstalledComponentsService,
    private readonly mCodes: MCodesService,
    private readonly signals: SignalsService,
    private readonly wires: WiresService,
  ) {}

  /** Writes them once the copy's stations, circuits and components are there; what follows is left to the caller. */
  async add(likeId: string, { id: machineId, stations }: Body): Promise<Added[]> {
    const query = { machineId: likeId, ...ALL };
    const stationIds = new Map(stations.map(({ id, likeStationId }) => [likeStationId, id]));
    const circuits = (await this.circuits.listOfMachine(likeId)).filter(({ stationId }) => stationIds.has(stationId));
    const circuitIds = new Map(circuits.map(({ id }) => [id, idInCopy(machineId, id)]));
    const fitted = await this.components.listOfMachine(likeId, new Date());
    const componentIds = new Map(
      fitted
        .filter(({ circuitId }) => circuitId === null || circuitIds.has(circuitId))
        .map(({ id, circuitId }) => [id, idInCopy(circuitIds.get(circuitId ?? '') ?? machineId, id)]),
    );
    const [added, mCodeIds, signalIds] = [[] as Added[], new Map<string, string>(), new Map<string, string>()];
    for (const mCode of (await this.mCodes.list(query)).items) {
      const stationId = mCode.stationId === null ? null : stationIds.get(mCode.stationId);
      if (stationId === undefined) continue;
      const id = idInCopy(machineId, mCode.id);
      mCodeIds.set(mCode.id, id);
      added.push(await this.mCodes.add(asBody(createMCodeBodySchema, mCode, { id, machineId, stationId })));
    }
    for (const signal of (await this.signals.list(query)).items) {
      const circuitId = signal.circuitId === null ? null : circuitIds.get(signal.circuitId);
      if (circuitId === undefined) continue;
      const id = idInCopy(machineId, signal.id);
      signalIds.set(signal.id, id);
      const named = {
        mCodeId: mCodeIds.get(signal.mCodeId ?? '') ?? null,
        componentId: componentIds.get(signal.componentId ?? '') ?? null,
      };
      // Polarity is looked at on the machine itself.
      const differing = { id, machineId, circuitId, ...named, isPolarityRight: null };
      added.push(await this.signals.add(asBody(createSignalBodySchema, signal, differing)));
    }
    for (const wire of (await this.wires.list(query)).items) {
      const signalId = signalIds.get(wire.signalId);
      if (signalId === undefined) continue;
      const id = idInCopy(machineId, wire.id);
      added.push(await this.wires.add(asBody(createWireBodySchema, wire, { id, signalId })));
    }
    return added;
  }
}
