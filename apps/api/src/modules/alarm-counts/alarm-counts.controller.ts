import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { AlarmRulesService } from './alarm-rules.service.js';
import { CountsReadingService } from './counts-reading.service.js';

type Rules = typeof routes.alarmRules;

/** What people ask and decide about counts; gateways come in by the webhook's own door. */
@Controller()
export class AlarmCountsController {
  constructor(
    private readonly reading: CountsReadingService,
    private readonly rules: AlarmRulesService,
  ) {}

  @Handles(routes.alarmCounts.ofMachine)
  ofMachine(@Input() { params, query }: InputOf<(typeof routes.alarmCounts)['ofMachine']>) {
    return this.reading.ofMachine(params.id, query);
  }

  @Handles(routes.alarmRules.list)
  listRules(@Input() { query }: InputOf<Rules['list']>) {
    return this.rules.list(query);
  }

  @Handles(routes.alarmRules.create)
  createRule(@Input() { body }: InputOf<Rules['create']>) {
    return this.rules.create(body);
  }

  @Handles(routes.alarmRules.update)
  updateRule(@Input() { params, body, version }: InputOf<Rules['update']> & Pick<RouteInput, 'version'>) {
    return this.rules.update(params.id, version, body);
  }

  @Handles(routes.alarmRules.remove)
  removeRule(@Input() { params }: InputOf<Rules['remove']>) {
    return this.rules.remove(params.id);
  }
}
