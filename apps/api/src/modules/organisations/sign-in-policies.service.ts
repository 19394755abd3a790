import { Injectable } from '@nestjs/common';
import { Audit } from '../../platform/audit/audit.js';
import type { SignedIn } from '../../platform/auth/actor.js';
import { AppError } from '../../platform/errors/app-error.js';
import { assertVersion } from '../../platform/http/etag.js';
import { SignInPoliciesRepository } from './sign-in-policies.repository.js';

const NOTHING_ASKED = { demandsSecondFactor: false, version: 0 };

@Injectable()
export class SignInPoliciesService {
  constructor(
    private readonly repository: SignInPoliciesRepository,
    private readonly audit: Audit,
  ) {}

  async get() {
    return (await this.repository.find()) ?? NOTHING_ASKED;
  }

  async update(version: number, demandsSecondFactor: boolean, actor: SignedIn) {
    const before = await this.get();
    assertVersion(before.version, version);
    if (demandsSecondFactor && !actor.hasSecondFactor) {
      throw new AppError('request.conflict', {
        detail: 'Sign in with a second factor yourself before you demand one: you would shut yourself out.',
      });
    }
    if (!(await this.repository.write(version, demandsSecondFactor))) throw new AppError('request.stale');
    await this.audit.record({
      action: 'update',
      entity: 'sign-in-policy',
      entityId: actor.organisationId,
      changes: { demandsSecondFactor },
      before,
    });
    return this.get();
  }
}
