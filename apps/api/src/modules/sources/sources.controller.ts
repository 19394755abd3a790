import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { Actor } from '../../platform/auth/actor.js';
import { By } from '../../platform/auth/by.decorators.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { SourcesService } from './sources.service.js';

type Sources = typeof routes.sources;

@Controller()
export class SourcesController {
  constructor(private readonly sources: SourcesService) {}

  @Handles(routes.sources.list)
  list(@Input() { query }: InputOf<Sources['list']>) {
    return this.sources.list(query);
  }

  @Handles(routes.sources.get)
  get(@Input() { params }: InputOf<Sources['get']>, @By() actor: Actor) {
    return this.sources.get(params.id, actor);
  }

  @Handles(routes.sources.create)
  create(@Input() { body }: InputOf<Sources['create']>, @By() actor: Actor) {
    return this.sources.create(body, actor);
  }

  @Handles(routes.sources.update)
  update(
    @Input() { params, body, version }: InputOf<Sources['update']> & Pick<RouteInput, 'version'>,
    @By() actor: Actor,
  ) {
    return this.sources.update(params.id, version, body, actor);
  }

  @Handles(routes.sources.rotateSecret)
  rotateSecret(@Input() { params, body }: InputOf<Sources['rotateSecret']>, @By() actor: Actor) {
    return this.sources.rotateSecret(params.id, body.overlapHours, actor);
  }

  @Handles(routes.sources.listMachines)
  listMachines(@Input() { params, query }: InputOf<Sources['listMachines']>) {
    return this.sources.listMachines(params.id, query);
  }

  @Handles(routes.sources.addMachine)
  addMachine(@Input() { params, body }: InputOf<Sources['addMachine']>) {
    return this.sources.addMachine(params.id, body);
  }

  @Handles(routes.sources.removeMachine)
  removeMachine(@Input() { params }: InputOf<Sources['removeMachine']>) {
    return this.sources.removeMachine(params.id);
  }

  @Handles(routes.sources.listDeliveries)
  listDeliveries(@Input() { params, query }: InputOf<Sources['listDeliveries']>) {
    return this.sources.listDeliveries(params.id, query);
  }
}
