import { Injectable } from '@nestjs/common';
import {
  createMachineBodySchema,
  createPowerUnitBodySchema,
  type InputOf,
  type Machine,
  type routes,
} from '@repo/contracts';
import { invalidField } from '../../platform/errors/app-error.js';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { MachinesService } from '../machines/index.js';
import { PowerUnitsService } from '../power-units/index.js';
import { ConsequencesService, type Added } from '../sizing/index.js';
import { CircuitCopiesService } from './circuit-copies.service.js';
import { ComponentCopiesService } from './component-copies.service.js';
import { ControlCopiesService } from './control-copies.service.js';
import { asBody, idInCopy } from './copying.js';

type Body = InputOf<(typeof routes.machines)['copy']>['body'];

/** What belongs to the one machine and says nothing of another: its papers, and what was measured at it. */
const OF_ITS_OWN = {
  madeYear: null,
  controlVoltageV: null,
  inServiceOn: null,
  warrantyUntil: null,
  trainedPersons: '',
  kitList: '',
  asShipped: '',
  asReceived: '',
  quoteReference: '',
  predecessorMachineId: null,
};
/** What belongs to the hall: another site has its own air and its own cold. */
const OF_ITS_SITE = { plantAirLow: null, plantAirHigh: null, coldOilTemperature: null };

/** A machine as designed, once more. A figure of the original that may not be true of the copy is left unknown, so that it is asked for. */
@Injectable()
export class MachineCopiesService {
  constructor(
    private readonly machines: MachinesService,
    private readonly powerUnits: PowerUnitsService,
    private readonly circuits: CircuitsService,
    private readonly components: InstalledComponentsService,
    private readonly circuitCopies: CircuitCopiesService,
    private readonly componentCopies: ComponentCopiesService,
    private readonly control: ControlCopiesService,
    private readonly consequences: ConsequencesService,
  ) {}

  async copy(likeId: string, body: Body): Promise<Machine> {
    const like = await this.machines.get(likeId);
    this.assertStations(like, body);
    const { id, siteId, name, serial } = body;
    const stations = body.stations.map((station) => ({ id: station.id, name: station.name }));
    const machine = asBody(createMachineBodySchema, like, { ...OF_ITS_OWN, id, siteId, name, serial, stations });
    const added = [await this.machines.add(machine), ...(await this.addUnits(like, body))];
    added.push(...(await this.addCircuits(like, body)));
    added.push(...(await this.addControl(like, body)));
    await this.consequences.ofAll(added);
    return this.machines.get(id);
  }

  private assertStations(like: Machine, { stations }: Body): void {
    const there = new Set(like.stations.map(({ id }) => id));
    for (const [index, { likeStationId }] of stations.entries()) {
      // Each at most once: a station's circuits and codes are its own.
      if (!there.delete(likeStationId)) {
        throw invalidField(`stations.${index}.likeStationId`, likeStationId, 'a station of the original, once');
      }
    }
  }

  private async addUnits(like: Machine, body: Body): Promise<Added[]> {
    const added: Added[] = [];
    const fitted = await this.components.listOfMachine(like.id, new Date());
    const ofSite = body.siteId === like.siteId ? {} : OF_ITS_SITE;
    for (const unit of await this.powerUnits.listOfMachine(like.id)) {
      const seat = { machineId: body.id, powerUnitId: idInCopy(body.id, unit.id), circuitId: null };
      const differing = { ...ofSite, id: seat.powerUnitId, machineId: body.id };
      added.push(await this.powerUnits.add(asBody(createPowerUnitBodySchema, unit, differing)));
      const ofUnit = fitted.filter(({ powerUnitId }) => powerUnitId === unit.id);
      added.push(...(await this.componentCopies.add(ofUnit, seat, body.id, { ...body, designations: [] })));
    }
    return added;
  }

  /** What hangs on the copy's stations and circuits bears ids that were made from the copy's own. */
  private async addControl(like: Machine, body: Body): Promise<Added[]> {
    const stations = new Map(body.stations.map(({ id, likeStationId }) => [likeStationId, id]));
    const likeCircuits = (await this.circuits.listOfMachine(like.id)).filter(({ stationId }) =>
      stations.has(stationId),
    );
    const circuits = new Map(likeCircuits.map(({ id }) => [id, idInCopy(body.id, id)]));
    const fitted = await this.components.listOfMachine(like.id, new Date());
    const components = new Map(
      fitted
        .filter(({ circuitId }) => circuitId === null || circuits.has(circuitId))
        .map(({ id, circuitId }) => [id, idInCopy(circuits.get(circuitId ?? '') ?? body.id, id)]),
    );
    const counterparts = { stations, circuits, components };
    return this.control.add(like.id, { copyId: body.id, machineId: body.id }, counterparts);
  }

  private async addCircuits(like: Machine, body: Body): Promise<Added[]> {
    const added: Added[] = [];
    const fitted = await this.components.listOfMachine(like.id, new Date());
    const { fittedFrom, reason } = body;
    for (const circuit of await this.circuits.listOfMachine(like.id)) {
      const station = body.stations.find(({ likeStationId }) => likeStationId === circuit.stationId);
      if (station === undefined) continue;
      const id = idInCopy(body.id, circuit.id);
      const powerUnitId = idInCopy(body.id, circuit.powerUnitId);
      // A circuit that bears its station's name goes on bearing it.
      const name = circuit.name === circuit.stationName ? station.name : circuit.name;
      const place = { id, powerUnitId, stationId: station.id, name };
      added.push(
        ...(await this.circuitCopies.add(circuit, fitted, { ...place, designations: [], fittedFrom, reason })),
      );
    }
    return added;
  }
}
