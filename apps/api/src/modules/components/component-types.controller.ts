import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { ComponentTypesService } from './component-types.service.js';

type ComponentTypes = typeof routes.componentTypes;

@Controller()
export class ComponentTypesController {
  constructor(private readonly componentTypes: ComponentTypesService) {}

  @Handles(routes.componentTypes.list)
  list(@Input() { query }: InputOf<ComponentTypes['list']>) {
    return this.componentTypes.list(query);
  }

  @Handles(routes.componentTypes.get)
  get(@Input() { params }: InputOf<ComponentTypes['get']>) {
    return this.componentTypes.get(params.id);
  }

  @Handles(routes.componentTypes.create)
  create(@Input() { body }: InputOf<ComponentTypes['create']>) {
    return this.componentTypes.create(body);
  }

  @Handles(routes.componentTypes.update)
  update(@Input() { params, body, version }: InputOf<ComponentTypes['update']> & Pick<RouteInput, 'version'>) {
    return this.componentTypes.update(params.id, version, body);
  }

  @Handles(routes.componentTypes.affected)
  affected(@Input() { params, query }: InputOf<ComponentTypes['affected']>) {
    return this.componentTypes.listAffected(params.id, query);
  }

  @Handles(routes.componentTypes.revisions)
  revisions(@Input() { params }: InputOf<ComponentTypes['revisions']>) {
    return this.componentTypes.listRevisions(params.id);
  }
}
