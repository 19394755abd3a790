import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { CountsReadingService } from './counts-reading.service.js';

/** What people ask about counts; gateways come in by the webhook's own door. */
@Controller()
export class AlarmCountsController {
  constructor(private readonly reading: CountsReadingService) {}

  @Handles(routes.alarmCounts.ofMachine)
  ofMachine(@Input() { params, query }: InputOf<(typeof routes.alarmCounts)['ofMachine']>) {
    return this.reading.ofMachine(params.id, query);
  }
}
