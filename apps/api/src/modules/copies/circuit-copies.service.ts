import { Injectable } from '@nestjs/common';
import {
  createCircuitBodySchema,
  installComponentBodySchema,
  releaseTargetSettingBodySchema,
  type Circuit,
  type InputOf,
  type InstalledComponent,
  type routes,
} from '@repo/contracts';
import { CircuitsService } from '../circuits/index.js';
import { InstalledComponentsService } from '../components/index.js';
import { TargetSettingsService } from '../settings/index.js';
import { ConsequencesService, type Added } from '../sizing/index.js';
import { asBody, idInCopy } from './copying.js';

type Body = InputOf<(typeof routes.circuits)['copy']>['body'];

/** Where a copied component sits: one of a power unit and a circuit. */
interface Seat {
  machineId: string;
  powerUnitId: string | null;
  circuitId: string | null;
}

/** A circuit as designed, once more: its figures, components and target. What was read at the original stays with it. */
@Injectable()
export class CircuitCopiesService {
  constructor(
    private readonly circuits: CircuitsService,
    private readonly components: InstalledComponentsService,
    private readonly targets: TargetSettingsService,
    private readonly consequences: ConsequencesService,
  ) {}

  async copy(likeId: string, body: Body): Promise<Circuit> {
    const like = await this.circuits.get(likeId);
    const fitted = await this.components.listOfMachine(like.machineId, new Date());
    const added = await this.add(like, fitted, body);
    await this.consequences.ofAll(added);
    return this.circuits.get(body.id);
  }

  /** Writes a circuit, its components and its target; what follows from it is left to the caller. */
  async add(like: Circuit, fitted: readonly InstalledComponent[], body: Body): Promise<Added[]> {
    const { id, powerUnitId, stationId, name } = body;
    const circuit = await this.circuits.add(
      asBody(createCircuitBodySchema, like, { id, powerUnitId, stationId, name }),
    );
    const { machineId } = await this.circuits.get(id);
    const components = await this.addComponents(
      fitted.filter(({ circuitId }) => circuitId === like.id),
      { machineId, powerUnitId: null, circuitId: id },
      id,
      body,
    );
    return [circuit, ...components, ...(await this.addTarget(like.id, body))];
  }

  /** Components of the same types at another place: their own serials, lots and dates are nobody else's. */
  async addComponents(
    fitted: readonly InstalledComponent[],
    seat: Seat,
    copyId: string,
    { designations, fittedFrom, reason }: Pick<Body, 'designations' | 'fittedFrom' | 'reason'>,
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

  private async addTarget(likeId: string, { id: circuitId, reason }: Body): Promise<Added[]> {
    const [target] = await this.targets.latest([likeId], new Date());
    if (target === undefined || target.setting === null) return [];
    const differing = { id: idInCopy(circuitId, target.id), circuitId, reason, afterRevision: 0 };
    return [await this.targets.add(asBody(releaseTargetSettingBodySchema, target, differing))];
  }
}
