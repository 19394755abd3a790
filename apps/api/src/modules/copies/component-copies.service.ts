import { Injectable } from '@nestjs/common';
import { installComponentBodySchema, type InputOf, type InstalledComponent, type routes } from '@repo/contracts';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { PowerUnitsService } from '../power-units/index.js';
import { ConsequencesService, type Added } from '../sizing/index.js';
import { asBody, idInCopy } from './copying.js';

type Installed = typeof routes.installedComponents;
type OfCircuit = InputOf<Installed['copyOfCircuit']>['body'];
type OfPowerUnit = InputOf<Installed['copyOfPowerUnit']>['body'];

/** Where a copied component sits: one of a power unit and a circuit. */
interface Seat {
  machineId: string;
  powerUnitId: string | null;
  circuitId: string | null;
}

/** What is fitted in one place, fitted once more in a like one. */
@Injectable()
export class ComponentCopiesService {
  constructor(
    private readonly circuits: CircuitsService,
    private readonly powerUnits: PowerUnitsService,
    private readonly components: InstalledComponentsService,
    private readonly consequences: ConsequencesService,
  ) {}

  async copyOfCircuit(likeId: string, body: OfCircuit): Promise<{ items: InstalledComponent[] }> {
    const [like, circuit] = [await this.circuits.get(likeId), await this.circuits.get(body.circuitId)];
    const fitted = await this.components.listOfMachine(like.machineId, new Date());
    const seat = { machineId: circuit.machineId, powerUnitId: null, circuitId: circuit.id };
    return this.copy(
      fitted.filter(({ circuitId }) => circuitId === likeId),
      seat,
      body,
    );
  }

  async copyOfPowerUnit(likeId: string, body: OfPowerUnit): Promise<{ items: InstalledComponent[] }> {
    const [like, unit] = [await this.powerUnits.get(likeId), await this.powerUnits.get(body.powerUnitId)];
    const fitted = await this.components.listOfMachine(like.machineId, new Date());
    const seat = { machineId: unit.machineId, powerUnitId: unit.id, circuitId: null };
    return this.copy(
      fitted.filter(({ powerUnitId }) => powerUnitId === likeId),
      seat,
      body,
    );
  }

  /** Components of the same types at another place: their own serials, lots and dates are nobody else's. */
  async add(
    fitted: readonly InstalledComponent[],
    seat: Seat,
    copyId: string,
    { designations, fittedFrom, reason }: Pick<OfCircuit, 'designations' | 'fittedFrom' | 'reason'>,
  ): Promise<Added[]> {
    const added: Added[] = [];
    const marks = new Map(designations.map(({ likeComponentId, designation }) => [likeComponentId, designation]));
    const fresh = { serial: '', lot: '', madeOn: null, validFrom: fittedFrom, reason };
    for (const component of fitted) {
      const id = idInCopy(copyId, component.id);
      const designation = marks.get(component.id) ?? component.designation;
      added.push(
        await this.components.add(
          asBody(installComponentBodySchema, component, { id, designation, ...seat, ...fresh }),
        ),
      );
    }
    return added;
  }

  private async copy(
    fitted: readonly InstalledComponent[],
    seat: Seat,
    { id, ...differing }: OfCircuit | OfPowerUnit,
  ): Promise<{ items: InstalledComponent[] }> {
    await this.consequences.ofAll(await this.add(fitted, seat, id, differing));
    const items: InstalledComponent[] = [];
    for (const component of fitted) items.push(await this.components.get(idInCopy(id, component.id)));
    return { items };
  }
}
