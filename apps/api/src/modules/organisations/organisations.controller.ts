import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import type { SignedIn } from '../../platform/auth/actor.js';
import { By } from '../../platform/auth/by.decorators.js';
import { OrganisationsService } from './organisations.service.js';
import { SignInPoliciesService } from './sign-in-policies.service.js';

type Organisations = typeof routes.organisations;
type SignInPolicies = typeof routes.signInPolicies;

@Controller()
export class OrganisationsController {
  constructor(
    private readonly organisations: OrganisationsService,
    private readonly signInPolicies: SignInPoliciesService,
  ) {}

  @Handles(routes.organisations.get)
  get() {
    return this.organisations.get();
  }

  @Handles(routes.organisations.update)
  update(@Input() { body, version }: InputOf<Organisations['update']> & Pick<RouteInput, 'version'>) {
    return this.organisations.update(version, body);
  }

  @Handles(routes.signInPolicies.get)
  getSignInPolicy() {
    return this.signInPolicies.get();
  }

  @Handles(routes.signInPolicies.update)
  updateSignInPolicy(
    @Input() { body, version }: InputOf<SignInPolicies['update']> & Pick<RouteInput, 'version'>,
    @By() actor: SignedIn,
  ) {
    return this.signInPolicies.update(version, body.demandsSecondFactor, actor);
  }
}
