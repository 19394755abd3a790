import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { Actor } from '../../platform/auth/actor.js';
import { By } from '../../platform/auth/by.decorators.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { IssuesService } from './issues.service.js';

type Issues = typeof routes.issues;
type Versioned<K extends keyof Issues> = InputOf<Issues[K]> & Pick<RouteInput, 'version'>;

@Controller()
export class IssuesController {
  constructor(private readonly issues: IssuesService) {}

  @Handles(routes.issues.list)
  list(@Input() { query }: InputOf<Issues['list']>) {
    return this.issues.list(query);
  }

  @Handles(routes.issues.get)
  get(@Input() { params }: InputOf<Issues['get']>) {
    return this.issues.get(params.id);
  }

  @Handles(routes.issues.create)
  create(@Input() { body }: InputOf<Issues['create']>, @By() actor: Actor) {
    return this.issues.create(body, actor);
  }

  @Handles(routes.issues.update)
  update(@Input() { params, body, version }: Versioned<'update'>) {
    return this.issues.update(params.id, version, body);
  }

  @Handles(routes.issues.comment)
  comment(@Input() { params, body }: InputOf<Issues['comment']>, @By() actor: Actor) {
    return this.issues.comment(params.id, body, actor);
  }

  @Handles(routes.issues.close)
  close(@Input() { params, body, version }: Versioned<'close'>, @By() actor: Actor) {
    return this.issues.close(params.id, version, body.reason, actor);
  }

  @Handles(routes.issues.reopen)
  reopen(@Input() { params, body, version }: Versioned<'reopen'>) {
    return this.issues.reopen(params.id, version, body.reason);
  }
}
