import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { SignedIn } from '../../platform/auth/actor.js';
import { By, From, type Origin } from '../../platform/auth/by.decorators.js';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { AuthenticatorsService } from './authenticators.service.js';

type Authenticators = typeof routes.authenticators;

@Controller()
export class AuthenticatorsController {
  constructor(private readonly authenticators: AuthenticatorsService) {}

  @Handles(routes.authenticators.get)
  get(@By() actor: SignedIn) {
    return this.authenticators.get(actor);
  }

  @Handles(routes.authenticators.propose)
  propose(@By() actor: SignedIn) {
    return this.authenticators.propose(actor);
  }

  @Handles(routes.authenticators.confirm)
  confirm(@Input() { body }: InputOf<Authenticators['confirm']>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.authenticators.confirm(actor, body.code, origin);
  }

  @Handles(routes.authenticators.renewRecoveryCodes)
  renewRecoveryCodes(@By() actor: SignedIn) {
    return this.authenticators.renewRecoveryCodes(actor);
  }

  @Handles(routes.authenticators.remove)
  remove(@By() actor: SignedIn) {
    return this.authenticators.remove(actor);
  }
}
