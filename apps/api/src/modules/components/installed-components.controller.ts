import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { ComponentTypesService } from './component-types.service.js';
import { InstalledComponentsService } from './installed-components.service.js';

type Installed = typeof routes.installedComponents;

@Controller()
export class InstalledComponentsController {
  constructor(
    private readonly installed: InstalledComponentsService,
    private readonly types: ComponentTypesService,
  ) {}

  @Handles(routes.installedComponents.byLot)
  byLot(@Input() { query }: InputOf<Installed['byLot']>) {
    return this.types.listByLot(query);
  }

  @Handles(routes.installedComponents.list)
  list(@Input() { query }: InputOf<Installed['list']>) {
    return this.installed.list(query);
  }

  @Handles(routes.installedComponents.get)
  get(@Input() { params }: InputOf<Installed['get']>) {
    return this.installed.get(params.id);
  }

  @Handles(routes.installedComponents.create)
  create(@Input() { body }: InputOf<Installed['create']>) {
    return this.installed.create(body);
  }

  @Handles(routes.installedComponents.remove)
  remove(@Input() { params, body, version }: InputOf<Installed['remove']> & Pick<RouteInput, 'version'>) {
    return this.installed.remove(params.id, version, body);
  }
}
