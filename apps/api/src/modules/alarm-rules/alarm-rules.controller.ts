import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { AlarmRulesService } from './alarm-rules.service.js';

type Rules = typeof routes.alarmRules;

@Controller()
export class AlarmRulesController {
  constructor(private readonly rules: AlarmRulesService) {}

  @Handles(routes.alarmRules.list)
  list(@Input() { query }: InputOf<Rules['list']>) {
    return this.rules.list(query);
  }

  @Handles(routes.alarmRules.create)
  create(@Input() { body }: InputOf<Rules['create']>) {
    return this.rules.create(body);
  }

  @Handles(routes.alarmRules.update)
  update(@Input() { params, body, version }: InputOf<Rules['update']> & Pick<RouteInput, 'version'>) {
    return this.rules.update(params.id, version, body);
  }

  @Handles(routes.alarmRules.remove)
  remove(@Input() { params }: InputOf<Rules['remove']>) {
    return this.rules.remove(params.id);
  }
}
