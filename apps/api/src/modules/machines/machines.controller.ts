import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { MachinesService } from './machines.service.js';

type Machines = typeof routes.machines;

@Controller()
export class MachinesController {
  constructor(private readonly machines: MachinesService) {}

  @Handles(routes.machines.list)
  list(@Input() { query }: InputOf<Machines['list']>) {
    return this.machines.list(query);
  }

  @Handles(routes.machines.get)
  get(@Input() { params }: InputOf<Machines['get']>) {
    return this.machines.get(params.id);
  }

  @Handles(routes.machines.create)
  create(@Input() { body }: InputOf<Machines['create']>) {
    return this.machines.create(body);
  }

  @Handles(routes.machines.update)
  update(@Input() { params, body, version }: InputOf<Machines['update']> & Pick<RouteInput, 'version'>) {
    return this.machines.update(params.id, version, body);
  }
}
