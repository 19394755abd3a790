import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { Actor } from '../../platform/auth/actor.js';
import { By } from '../../platform/auth/by.decorators.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { MembershipsService } from './memberships.service.js';

type Memberships = typeof routes.memberships;
type In<K extends keyof Memberships> = InputOf<Memberships[K]> & RouteInput<unknown, unknown, unknown>;

@Controller()
export class MembershipsController {
  constructor(private readonly memberships: MembershipsService) {}

  @Handles(routes.memberships.list)
  list(@Input() { query }: In<'list'>) {
    return this.memberships.list(query);
  }

  @Handles(routes.memberships.get)
  get(@Input() { params }: In<'get'>) {
    return this.memberships.get(params.id);
  }

  @Handles(routes.memberships.update)
  update(@Input() { params, body, version }: In<'update'>, @By() actor: Actor) {
    return this.memberships.update(params.id, version, body, actor);
  }

  @Handles(routes.memberships.listSessions)
  listSessions(@Input() { params }: In<'listSessions'>, @By() actor: Actor) {
    return this.memberships.listSessions(params.id, actor);
  }

  @Handles(routes.memberships.endSession)
  endSession(@Input() { params }: In<'endSession'>, @By() actor: Actor) {
    return this.memberships.endSession(params.id, params.sessionId, actor);
  }
}
