import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { SitesService } from './sites.service.js';

type Sites = typeof routes.sites;

@Controller()
export class SitesController {
  constructor(private readonly sites: SitesService) {}

  @Handles(routes.sites.list)
  list(@Input() { query }: InputOf<Sites['list']>) {
    return this.sites.list(query);
  }

  @Handles(routes.sites.get)
  get(@Input() { params }: InputOf<Sites['get']>) {
    return this.sites.get(params.id);
  }

  @Handles(routes.sites.create)
  create(@Input() { body }: InputOf<Sites['create']>) {
    return this.sites.create(body);
  }

  @Handles(routes.sites.update)
  update(@Input() { params, body, version }: InputOf<Sites['update']> & Pick<RouteInput, 'version'>) {
    return this.sites.update(params.id, version, body);
  }
}
