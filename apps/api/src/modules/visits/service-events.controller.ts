import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { ServiceEventsService } from './service-events.service.js';

type Events = typeof routes.serviceEvents;

@Controller()
export class ServiceEventsController {
  constructor(private readonly events: ServiceEventsService) {}

  @Handles(routes.serviceEvents.list)
  list(@Input() { query }: InputOf<Events['list']>) {
    return this.events.list(query);
  }

  @Handles(routes.serviceEvents.create)
  create(@Input() { body }: InputOf<Events['create']>) {
    return this.events.create(body);
  }
}
