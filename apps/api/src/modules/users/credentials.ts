import { Injectable } from '@nestjs/common';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Passwords } from '../../platform/auth/passwords.js';
import { AppError, invalidField } from '../../platform/errors/app-error.js';
import { Guesses, type Guess } from './guesses.js';
import { Notices } from './notices.js';
import { SecondFactors } from './second-factors.js';
import { UsersRepository, type UserRow } from './users.repository.js';

export interface Proven {
  readonly user: UserRow;
  readonly hasSecondFactor: boolean;
}

/** Finds out whether somebody is who they say, by password and one-time code. Every guess is counted. */
@Injectable()
export class Credentials {
  constructor(
    private readonly repository: UsersRepository,
    private readonly guesses: Guesses,
    private readonly passwords: Passwords,
    private readonly secondFactors: SecondFactors,
    private readonly notices: Notices,
  ) {}

  /**
   * The account of this e-mail and password. Unknown e-mail and wrong password answer alike and take as long. Where several
   * accounts have the same address, the one that proved it goes first.
   */
  async verify(given: { email: string; password: string; code?: string | undefined }, origin: Origin): Promise<Proven> {
    const guess = await this.guesses.begin({ what: 'password', of: given.email }, origin);
    const user = await this.findByPassword(given.email, given.password, guess);
    if (user === null) throw new AppError('session.wrong');
    const hasSecondFactor = await this.checkCode(user.id, given.code, origin, () => this.guesses.forget(guess));
    await this.guesses.succeeded(guess);
    return { user, hasSecondFactor };
  }

  /** That the person of a session is still there. Wrong answers are told by field: the session itself stays. */
  async proveAgain(
    userId: string,
    given: { password: string; code?: string | undefined },
    origin: Origin,
  ): Promise<{ hasSecondFactor: boolean }> {
    await this.checkPassword(userId, given.password, 'password', origin);
    return { hasSecondFactor: await this.checkCode(userId, given.code, origin) };
  }

  /** The account's own password, asked in the field of this name. Gives its hash. */
  async checkPassword(userId: string, password: string, field: string, origin: Origin): Promise<string> {
    const guess = await this.guesses.begin({ what: 'proof', of: userId }, origin);
    const user = await this.repository.find(userId);
    const stored = user?.password_hash ?? null;
    const right = await this.passwords.matches(stored, password, guess.turn);
    if (!right || stored === null) throw invalidField(field, '…', 'the password of this account', 'wrong');
    await this.guesses.succeeded(guess);
    return stored;
  }

  private async findByPassword(email: string, password: string, { turn }: Guess): Promise<UserRow | null> {
    const accounts = await this.repository.listByEmail(email);
    for (const account of accounts) {
      if (await this.passwords.matches(account.password_hash, password, turn)) return account;
    }
    if (accounts.length === 0) await this.passwords.matches(null, password, turn);
    return null;
  }

  /** Whether a second factor was given; throws where one is needed and missing or wrong. */
  private async checkCode(
    userId: string,
    code: string | undefined,
    origin: Origin,
    onMissing: () => Promise<void> = () => Promise.resolve(),
  ): Promise<boolean> {
    if (!(await this.secondFactors.isSet(userId))) return false;
    if (code === undefined) {
      await onMissing();
      throw new AppError('session.code_needed');
    }
    const guess = await this.guesses.begin({ what: 'codes', of: userId }, origin);
    if (!(await this.secondFactors.takes(userId, code))) {
      await this.notices.tellOnceAnHour(userId, 'code-guessed');
      throw new AppError('session.code_wrong');
    }
    await this.guesses.succeeded(guess);
    return true;
  }
}
