import { Injectable, Logger } from '@nestjs/common';
import type { SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { findPasswordFault } from '../../platform/auth/password-rules.js';
import { Passwords } from '../../platform/auth/passwords.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError, invalidField } from '../../platform/errors/app-error.js';
import { Mail } from '../../platform/mail/mail.js';
import { Credentials } from './credentials.js';
import { Guesses } from './guesses.js';
import { KnownDevices } from './known-devices.js';
import { Notices } from './notices.js';
import { OneTimeLinksRepository } from './one-time-links.repository.js';
import { UsersRepository } from './users.repository.js';

const FAULTS = {
  common: 'a password that is not among the common ones',
  trivial: 'a password that is no plain run or repetition',
  'own-name': 'a password without the e-mail name in it',
} as const;

/** Password and address of an account: only their person changes them. */
@Injectable()
export class AccountService {
  private readonly log = new Logger(AccountService.name);

  constructor(
    private readonly repository: UsersRepository,
    private readonly credentials: Credentials,
    private readonly guesses: Guesses,
    private readonly passwords: Passwords,
    private readonly sessions: Sessions,
    private readonly devices: KnownDevices,
    private readonly links: OneTimeLinksRepository,
    private readonly notices: Notices,
    private readonly mail: Mail,
  ) {}

  /** The hash of a new password that obeys the rules. */
  async hashNew(newPassword: string, email: string): Promise<string> {
    const fault = findPasswordFault(newPassword, email);
    if (fault !== null) throw invalidField('newPassword', '…', FAULTS[fault], fault);
    return this.passwords.hash(newPassword);
  }

  async changePassword(
    actor: SignedIn,
    body: { currentPassword: string; newPassword: string },
    origin: Origin,
  ): Promise<void> {
    const before = await this.credentials.checkPassword(actor.userId, body.currentPassword, 'currentPassword', origin);
    const user = await this.repository.find(actor.userId);
    const after = await this.hashNew(body.newPassword, user?.email ?? '');
    if (!(await this.repository.setPassword(actor.userId, after, before))) {
      throw new AppError('request.conflict', { detail: 'The password was changed meanwhile.' });
    }
    await this.sessions.endOthers(actor.userId, actor.sessionId);
    await this.sessions.proveAgain(actor.sessionId, { withSecondFactor: false });
    await this.links.endAll(actor.userId, 'forgotten-password');
    await this.notices.tell(actor.userId, 'password-changed');
  }

  /**
   * Sends a link to whoever proved this address. It answers alike and as soon whether there is such an account or not; an address
   * that was never proven gets nothing, since its mailbox may be somebody else's.
   */
  async requestPasswordReset(email: string, origin: Origin): Promise<{ mailed: boolean }> {
    await this.guesses.begin({ what: 'message', of: email }, origin);
    if (this.mail.canSend) {
      this.sendResetLink(email).catch((error: unknown) => this.log.error(error));
    }
    return { mailed: this.mail.canSend };
  }

  /** Sets a new password. Whoever reads the mailbox comes as far as this: a second factor stays, and nobody is signed in by it. */
  async resetPassword({ token, newPassword }: { token: string; newPassword: string }): Promise<void> {
    const email = await this.links.findAddress(token, 'forgotten-password');
    if (email === null) throw new AppError('link.ended');
    // Used up once the password is one that is taken, so that a refused one leaves the link good.
    const hash = await this.hashNew(newPassword, email);
    const userId = await this.links.findUser(token, 'forgotten-password');
    if (userId === null || (await this.links.use(token, 'forgotten-password', userId)) === null) {
      throw new AppError('link.ended');
    }
    await this.repository.setPassword(userId, hash, null);
    await this.sessions.endOthers(userId, null);
    await this.devices.forgetAll(userId);
    await this.links.endAll(userId, 'forgotten-password');
    await this.notices.tell(userId, 'password-reset');
  }

  /** Sends a message to an address that is to be proven, the present one or another. */
  async requestAddressProof(actor: SignedIn, email: string): Promise<{ mailed: boolean }> {
    if (!this.mail.canSend) return { mailed: false };
    const token = await this.links.make(actor.userId, 'address-proof', email);
    if (token === null) {
      throw new AppError('request.too_many', {
        detail: 'Three messages were sent within the hour.',
        retryAfterS: 3600,
      });
    }
    return { mailed: this.mail.send(email, { kind: 'address-proof', displayName: actor.displayName, token }) };
  }

  /**
   * The link proves that somebody reads the mailbox; the session, that it is the person who asked. Without it, who asks for a message to
   * a stranger's address and has them open it would have proved that address.
   */
  async completeAddressProof({ userId }: SignedIn, token: string): Promise<void> {
    const email = await this.links.use(token, 'address-proof', userId);
    if (email === null) throw new AppError('link.ended');
    const before = await this.repository.find(userId);
    if (before === null) throw new AppError('link.ended');
    const isChanged = before.email.toLowerCase() !== email.toLowerCase();
    // While the address before still counts: its mailbox is told.
    if (isChanged) await this.notices.tell(userId, 'address-changed', { email });
    if (!(await this.repository.proveAddress(userId, email))) {
      throw new AppError('request.conflict', {
        detail: 'Another account has proved this address: sign in to that one.',
      });
    }
    await this.links.endAll(userId, 'address-proof');
  }

  private async sendResetLink(email: string): Promise<void> {
    const user = await this.repository.findProven(email);
    if (user === null) return;
    const token = await this.links.make(user.id, 'forgotten-password', user.email);
    if (token === null) return;
    this.mail.send(user.email, { kind: 'forgotten-password', displayName: user.display_name, token });
  }
}
