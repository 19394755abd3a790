import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { CalculationsService } from './calculations.service.js';

type Calculations = typeof routes.calculations;

@Controller()
export class CalculationsController {
  constructor(private readonly calculations: CalculationsService) {}

  @Handles(routes.calculations.list)
  list() {
    return this.calculations.list();
  }

  @Handles(routes.calculations.get)
  get(@Input() { params }: InputOf<Calculations['get']>) {
    return this.calculations.get(params.id);
  }

  @Handles(routes.calculations.calculate)
  calculate(@Input() { params, body }: InputOf<Calculations['calculate']>) {
    return this.calculations.calculate(params.id, body);
  }
}
