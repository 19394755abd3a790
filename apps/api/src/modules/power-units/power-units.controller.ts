import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { PowerUnitsService } from './power-units.service.js';

type PowerUnits = typeof routes.powerUnits;

@Controller()
export class PowerUnitsController {
  constructor(private readonly powerUnits: PowerUnitsService) {}

  @Handles(routes.powerUnits.list)
  list(@Input() { query }: InputOf<PowerUnits['list']>) {
    return this.powerUnits.list(query);
  }

  @Handles(routes.powerUnits.get)
  get(@Input() { params }: InputOf<PowerUnits['get']>) {
    return this.powerUnits.get(params.id);
  }

  @Handles(routes.powerUnits.create)
  create(@Input() { body }: InputOf<PowerUnits['create']>) {
    return this.powerUnits.create(body);
  }

  @Handles(routes.powerUnits.update)
  update(@Input() { params, body, version }: InputOf<PowerUnits['update']> & Pick<RouteInput, 'version'>) {
    return this.powerUnits.update(params.id, version, body);
  }
}
