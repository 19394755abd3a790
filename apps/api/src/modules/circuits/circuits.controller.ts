import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { CircuitsService } from './circuits.service.js';

type Circuits = typeof routes.circuits;

@Controller()
export class CircuitsController {
  constructor(private readonly circuits: CircuitsService) {}

  @Handles(routes.circuits.list)
  list(@Input() { query }: InputOf<Circuits['list']>) {
    return this.circuits.list(query);
  }

  @Handles(routes.circuits.get)
  get(@Input() { params }: InputOf<Circuits['get']>) {
    return this.circuits.get(params.id);
  }

  @Handles(routes.circuits.create)
  create(@Input() { body }: InputOf<Circuits['create']>) {
    return this.circuits.create(body);
  }

  @Handles(routes.circuits.update)
  update(@Input() { params, body, version }: InputOf<Circuits['update']> & Pick<RouteInput, 'version'>) {
    return this.circuits.update(params.id, version, body);
  }
}
