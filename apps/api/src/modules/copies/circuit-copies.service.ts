import { Injectable } from '@nestjs/common';
import {
  createCircuitBodySchema,
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
import { ComponentCopiesService } from './component-copies.service.js';
import { asBody, idInCopy } from './copying.js';

type Body = InputOf<(typeof routes.circuits)['copy']>['body'];

/** A circuit as designed, once more: its figures, components and target. What was read at the original stays with it. */
@Injectable()
export class CircuitCopiesService {
  constructor(
    private readonly circuits: CircuitsService,
    private readonly components: InstalledComponentsService,
    private readonly componentCopies: ComponentCopiesService,
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
    const components = await this.componentCopies.add(
      fitted.filter(({ circuitId }) => circuitId === like.id),
      { machineId, powerUnitId: null, circuitId: id },
      id,
      body,
    );
    return [circuit, ...components, ...(await this.addTarget(like.id, body))];
  }

  private async addTarget(likeId: string, { id: circuitId, reason }: Body): Promise<Added[]> {
    const [target] = await this.targets.latest([likeId], new Date());
    if (target === undefined || target.setting === null) return [];
    const differing = { id: idInCopy(circuitId, target.id), circuitId, reason, afterRevision: 0 };
    return [await this.targets.add(asBody(releaseTargetSettingBodySchema, target, differing))];
  }
}
