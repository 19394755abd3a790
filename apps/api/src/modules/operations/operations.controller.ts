import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { ByName } from '../../platform/auth/by.decorators.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { OperationsService } from './operations.service.js';

type Operations = typeof routes.operations;

@Controller()
export class OperationsController {
  constructor(private readonly operations: OperationsService) {}

  @Handles(routes.operations.list)
  list(@Input() { query }: InputOf<Operations['list']>) {
    return this.operations.list(query);
  }

  @Handles(routes.operations.get)
  get(@Input() { params }: InputOf<Operations['get']>) {
    return this.operations.get(params.id);
  }

  @Handles(routes.operations.create)
  create(@Input() { body }: InputOf<Operations['create']>, @ByName() byName: string) {
    return this.operations.create(body, byName);
  }

  @Handles(routes.operations.update)
  update(
    @Input() { params, body, version }: InputOf<Operations['update']> & Pick<RouteInput, 'version'>,
    @ByName() byName: string,
  ) {
    return this.operations.update(params.id, version, body, byName);
  }
}
