import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { StandingsService } from './standings.service.js';

type Standings = typeof routes.standings;

@Controller()
export class StandingsController {
  constructor(private readonly standings: StandingsService) {}

  @Handles(routes.standings.list)
  list(@Input() { query }: InputOf<Standings['list']>) {
    return this.standings.list(query);
  }

  @Handles(routes.standings.counts)
  count(@Input() { query }: InputOf<Standings['counts']>) {
    return this.standings.counts(query.customerId);
  }
}
