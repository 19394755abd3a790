import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { ApiKeysService } from './api-keys.service.js';

type ApiKeyRoutes = typeof routes.apiKeys;
type In<K extends keyof ApiKeyRoutes> = InputOf<ApiKeyRoutes[K]> & RouteInput<unknown, unknown, unknown>;

@Controller()
export class ApiKeysController {
  constructor(private readonly apiKeys: ApiKeysService) {}

  @Handles(routes.apiKeys.list)
  list(@Input() { query }: In<'list'>) {
    return this.apiKeys.list(query);
  }

  @Handles(routes.apiKeys.get)
  get(@Input() { params }: In<'get'>) {
    return this.apiKeys.get(params.id);
  }

  @Handles(routes.apiKeys.create)
  create(@Input() { body }: In<'create'>) {
    return this.apiKeys.create(body);
  }

  @Handles(routes.apiKeys.update)
  update(@Input() { params, body, version }: In<'update'>) {
    return this.apiKeys.update(params.id, version, body);
  }

  @Handles(routes.apiKeys.rotate)
  rotate(@Input() { params, body }: In<'rotate'>) {
    return this.apiKeys.rotate(params.id, body.overlapHours);
  }
}
