import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { OrganisationsService } from './organisations.service.js';

type Organisations = typeof routes.organisations;

@Controller()
export class OrganisationsController {
  constructor(private readonly organisations: OrganisationsService) {}

  @Handles(routes.organisations.get)
  get() {
    return this.organisations.get();
  }

  @Handles(routes.organisations.update)
  update(@Input() { body, version }: InputOf<Organisations['update']> & Pick<RouteInput, 'version'>) {
    return this.organisations.update(version, body);
  }
}
