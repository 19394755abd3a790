import { Injectable } from '@nestjs/common';
import {
  createMCodeBodySchema,
  createSignalBodySchema,
  createWireBodySchema,
  type InputOf,
  type Machine,
  type routes,
} from '@repo/contracts';
import { AppError } from '../../platform/errors/app-error.js';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { MachinesService } from '../machines/index.js';
import { MCodesService, SignalsService, WiresService } from '../signals/index.js';
import { ConsequencesService, type Added } from '../sizing/index.js';
import { asBody, idInCopy } from './copying.js';
import { assertStations, fillIn, pairCircuits, pairComponents } from './like-control.js';

type Body = InputOf<(typeof routes.signals)['copyControl']>['body'];

/** More than a control has. */
const ALL = { cursor: undefined, limit: 10_000 };

/** What of a machine stands for what of its original, by the original's ids. What is not there has no counterpart. */
export interface Counterparts {
  stations: ReadonlyMap<string, string>;
  circuits: ReadonlyMap<string, string>;
  components: ReadonlyMap<string, string>;
}

/** M-codes, signals and wires of a machine, for a like one. Codes and signals of stations that it does not have are left out. */
@Injectable()
export class ControlCopiesService {
  constructor(
    private readonly machines: MachinesService,
    private readonly circuits: CircuitsService,
    private readonly components: InstalledComponentsService,
    private readonly mCodes: MCodesService,
    private readonly signals: SignalsService,
    private readonly wires: WiresService,
    private readonly consequences: ConsequencesService,
  ) {}

  /** Onto a machine that has no control yet; what is said of its behaviour already stays. */
  async copy(likeId: string, body: Body): Promise<Machine> {
    const [like, machine] = [await this.machines.get(likeId), await this.machines.get(body.machineId)];
    assertStations(like, machine, body);
    const query = { machineId: machine.id, cursor: undefined, limit: 1 };
    const present = [...(await this.mCodes.list(query)).items, ...(await this.signals.list(query)).items];
    if (present.length > 0) {
      throw new AppError('request.conflict', { detail: 'The machine has codes or signals of its own already.' });
    }
    const added = await this.add(likeId, { copyId: body.id, machineId: machine.id }, await this.findLike(likeId, body));
    await this.consequences.ofAll(added);
    const controlBehaviour = fillIn(machine.controlBehaviour, like.controlBehaviour);
    return this.machines.update(machine.id, machine.version, { controlBehaviour });
  }

  /** Writes them once the copy's stations, circuits and components are there; what follows is left to the caller. */
  async add(
    likeId: string,
    { copyId, machineId }: { copyId: string; machineId: string },
    counterparts: Counterparts,
  ): Promise<Added[]> {
    const query = { machineId: likeId, ...ALL };
    const [added, mCodeIds, signalIds] = [[] as Added[], new Map<string, string>(), new Map<string, string>()];
    for (const mCode of (await this.mCodes.list(query)).items) {
      const stationId = mCode.stationId === null ? null : counterparts.stations.get(mCode.stationId);
      if (stationId === undefined) continue;
      const id = idInCopy(copyId, mCode.id);
      mCodeIds.set(mCode.id, id);
      added.push(await this.mCodes.add(asBody(createMCodeBodySchema, mCode, { id, machineId, stationId })));
    }
    for (const signal of (await this.signals.list(query)).items) {
      const circuitId = signal.circuitId === null ? null : counterparts.circuits.get(signal.circuitId);
      if (circuitId === undefined) continue;
      const id = idInCopy(copyId, signal.id);
      signalIds.set(signal.id, id);
      const named = {
        mCodeId: mCodeIds.get(signal.mCodeId ?? '') ?? null,
        componentId: counterparts.components.get(signal.componentId ?? '') ?? null,
      };
      // Polarity is looked at on the machine itself.
      const differing = { id, machineId, circuitId, ...named, isPolarityRight: null };
      added.push(await this.signals.add(asBody(createSignalBodySchema, signal, differing)));
    }
    for (const wire of (await this.wires.list(query)).items) {
      const signalId = signalIds.get(wire.signalId);
      if (signalId === undefined) continue;
      const id = idInCopy(copyId, wire.id);
      added.push(await this.wires.add(asBody(createWireBodySchema, wire, { id, signalId })));
    }
    return added;
  }

  /** Of a machine that was made for itself: circuits of like stations, and components of one kind that bear the same number there. */
  private async findLike(likeId: string, { machineId, stations }: Body): Promise<Counterparts> {
    const [likeCircuits, circuits] = [
      await this.circuits.listOfMachine(likeId),
      await this.circuits.listOfMachine(machineId),
    ];
    const circuitIds = new Map(
      stations.flatMap(({ stationId, likeStationId }) =>
        pairCircuits(
          likeCircuits.filter((circuit) => circuit.stationId === likeStationId),
          circuits.filter((circuit) => circuit.stationId === stationId),
        ),
      ),
    );
    const now = new Date();
    return {
      stations: new Map(stations.map(({ stationId, likeStationId }) => [likeStationId, stationId])),
      circuits: circuitIds,
      components: pairComponents(
        await this.components.listOfMachine(likeId, now),
        await this.components.listOfMachine(machineId, now),
        circuitIds,
      ),
    };
  }
}
