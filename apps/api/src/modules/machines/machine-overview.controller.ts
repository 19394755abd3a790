import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { MachineOverviewService } from './machine-overview.service.js';

type Machines = typeof routes.machines;

@Controller()
export class MachineOverviewController {
  constructor(private readonly overviews: MachineOverviewService) {}

  @Handles(routes.machines.overview)
  overview(@Input() { params, query }: InputOf<Machines['overview']>) {
    return this.overviews.overview(params.id, query);
  }

  @Handles(routes.machines.setup)
  setup(@Input() { params }: InputOf<Machines['setup']>) {
    return this.overviews.setup(params.id);
  }
}
