import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { JobsService } from './jobs.service.js';

type Jobs = typeof routes.jobs;

@Controller()
export class JobsController {
  constructor(private readonly jobs: JobsService) {}

  @Handles(routes.jobs.list)
  list(@Input() { query }: InputOf<Jobs['list']>) {
    return this.jobs.list(query);
  }

  @Handles(routes.jobs.get)
  get(@Input() { params }: InputOf<Jobs['get']>) {
    return this.jobs.get(params.id);
  }

  @Handles(routes.jobs.cancel)
  cancel(@Input() { params }: InputOf<Jobs['cancel']>) {
    return this.jobs.cancel(params.id);
  }
}
