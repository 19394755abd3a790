import { Injectable } from '@nestjs/common';
import type { SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError } from '../../platform/errors/app-error.js';
import { Guesses } from './guesses.js';
import { PasskeysRepository } from './passkeys.repository.js';
import { SecondFactors } from './second-factors.js';
import { UsersRepository } from './users.repository.js';

/** One-time codes of the own account, switched on and off. */
@Injectable()
export class AuthenticatorsService {
  constructor(
    private readonly repository: UsersRepository,
    private readonly passkeys: PasskeysRepository,
    private readonly secondFactors: SecondFactors,
    private readonly guesses: Guesses,
    private readonly sessions: Sessions,
  ) {}

  async get({ userId }: SignedIn) {
    const [isOn, recoveryCodesLeft] = await Promise.all([
      this.secondFactors.isSet(userId),
      this.secondFactors.countRecoveryCodes(userId),
    ]);
    return { isOn, recoveryCodesLeft };
  }

  async propose(actor: SignedIn) {
    const user = await this.repository.find(actor.userId);
    return this.secondFactors.propose(actor.userId, user?.email ?? actor.displayName);
  }

  async confirm(actor: SignedIn, code: string, origin: Origin) {
    const guess = await this.guesses.begin({ what: 'codes', of: actor.userId }, origin);
    const recoveryCodes = await this.secondFactors.confirm(actor.userId, code);
    if (recoveryCodes === null) throw new AppError('session.code_wrong');
    await this.guesses.succeeded(guess);
    await this.sessions.proveAgain(actor.sessionId, { withSecondFactor: true });
    return { recoveryCodes };
  }

  async renewRecoveryCodes({ userId }: SignedIn) {
    return { recoveryCodes: await this.secondFactors.renewRecoveryCodes(userId) };
  }

  async remove({ userId }: SignedIn): Promise<void> {
    const passkeys = await this.passkeys.list(userId);
    if (passkeys.length === 0 && (await this.repository.isSecondFactorDemanded(userId))) {
      throw new AppError('request.conflict', {
        detail: 'An organisation that you belong to demands a second factor, and you have no other.',
      });
    }
    await this.secondFactors.remove(userId);
  }
}
