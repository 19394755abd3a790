import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
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
  create(@Input() { body }: InputOf<Operations['create']>) {
    return this.operations.create(body);
  }

  @Handles(routes.operations.update)
  update(@Input() { params, body, version }: InputOf<Operations['update']> & Pick<RouteInput, 'version'>) {
    return this.operations.update(params.id, version, body);
  }
}
