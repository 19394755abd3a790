import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { Actor } from '../../platform/auth/actor.js';
import { By } from '../../platform/auth/by.decorators.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { FindingsService } from './findings.service.js';

type Findings = typeof routes.findings;
type Versioned<K extends keyof Findings> = InputOf<Findings[K]> & Pick<RouteInput, 'version'>;

@Controller()
export class FindingsController {
  constructor(private readonly findings: FindingsService) {}

  @Handles(routes.findings.list)
  list(@Input() { query }: InputOf<Findings['list']>) {
    return this.findings.list(query);
  }

  @Handles(routes.findings.get)
  get(@Input() { params }: InputOf<Findings['get']>) {
    return this.findings.get(params.id);
  }

  @Handles(routes.findings.settle)
  settle(@Input() { params, body, version }: Versioned<'settle'>, @By() actor: Actor) {
    return this.findings.settle(params.id, version, body, actor);
  }

  @Handles(routes.findings.retry)
  retry(@Input() { params, body, version }: Versioned<'retry'>, @By() actor: Actor) {
    return this.findings.retry(params.id, version, body, actor);
  }

  @Handles(routes.findings.dismiss)
  dismiss(@Input() { params, body, version }: Versioned<'dismiss'>, @By() actor: Actor) {
    return this.findings.dismiss(params.id, version, body, actor);
  }
}
