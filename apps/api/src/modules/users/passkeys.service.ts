import { Inject, Injectable } from '@nestjs/common';
import type { InputOf, Passkey, routes } from '@repo/contracts';
import {
  generateAuthenticationOptions,
  generateRegistrationOptions,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
  type AuthenticationResponseJSON,
  type RegistrationResponseJSON,
} from '@simplewebauthn/server';
import { uuidv7 } from 'uuidv7';
import { z } from 'zod';
import { ENV, type Env } from '../../config/env.js';
import type { SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { Notices } from './notices.js';
import { PasskeysRepository, type PasskeyRow } from './passkeys.repository.js';
import { SecondFactors } from './second-factors.js';
import { SignInService, type SignInResult } from './sign-in.service.js';
import { UsersRepository } from './users.repository.js';

type PasskeyRoutes = typeof routes.passkeys;
type Used = Pick<InputOf<PasskeyRoutes['signIn']>['body'], 'challengeId' | 'credential'>;

const toPasskey = (row: PasskeyRow): Passkey => ({
  id: row.id,
  name: row.name,
  createdAt: row.created_at.toISOString(),
  lastUsedAt: isoOrNull(row.last_used_at),
});

const fromBase64Url = (text: string): Buffer => Buffer.from(text, 'base64url');

/** Passkeys of an account: made, used to sign in and to prove, taken away. Their challenges are good once. */
const TRANSPORTS = ['ble', 'cable', 'hybrid', 'internal', 'nfc', 'smart-card', 'usb'] as const;
/** How an authenticator may be reached: hints that it gave itself, so one that is not known is left out. */
const transportsSchema = z
  .array(z.enum(TRANSPORTS).nullable().catch(null))
  .transform((hints) => hints.flatMap((hint) => hint ?? []));

@Injectable()
export class PasskeysService {
  constructor(
    private readonly repository: PasskeysRepository,
    private readonly users: UsersRepository,
    private readonly signIns: SignInService,
    private readonly sessions: Sessions,
    private readonly secondFactors: SecondFactors,
    private readonly notices: Notices,
    @Inject(ENV) private readonly env: Env,
  ) {}

  async list({ userId }: SignedIn) {
    return { items: (await this.repository.list(userId)).map(toPasskey) };
  }

  async proposeNew(actor: SignedIn, origin: Origin) {
    const [user, known] = await Promise.all([this.users.find(actor.userId), this.repository.list(actor.userId)]);
    const options = await generateRegistrationOptions({
      rpName: 'Kedge',
      rpID: this.siteOf(origin).hostname,
      userID: new Uint8Array(Buffer.from(actor.userId)),
      userName: user?.email ?? actor.displayName,
      userDisplayName: actor.displayName,
      attestationType: 'none',
      excludeCredentials: known.map((row) => ({ id: row.credential_id.toString('base64url') })),
      authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
    });
    return this.keep(actor.userId, options.challenge, options);
  }

  async create(actor: SignedIn, body: InputOf<PasskeyRoutes['create']>['body'], origin: Origin): Promise<Passkey> {
    const challenge = await this.takeChallenge(body.challengeId, actor.userId);
    const site = this.siteOf(origin);
    const { verified, registrationInfo } = await this.orWrong(
      verifyRegistrationResponse({
        response: body.credential as unknown as RegistrationResponseJSON,
        expectedChallenge: challenge,
        expectedOrigin: site.origin,
        expectedRPID: site.hostname,
        requireUserVerification: true,
      }),
    );
    if (!verified || registrationInfo === undefined) throw new AppError('session.passkey_wrong');
    const { credential } = registrationInfo;
    const row = await this.repository.insert({
      id: uuidv7(),
      userId: actor.userId,
      credentialId: fromBase64Url(credential.id),
      publicKey: Buffer.from(credential.publicKey),
      signCount: credential.counter,
      transports: credential.transports ?? [],
      name: body.name,
    });
    if (row === null) throw new AppError('request.conflict', { detail: 'This passkey is there already.' });
    await this.sessions.proveAgain(actor.sessionId, { withSecondFactor: true });
    await this.notices.tell(actor.userId, 'passkey-added', { name: body.name });
    return toPasskey(row);
  }

  async remove({ userId }: SignedIn, id: string): Promise<void> {
    const others = (await this.repository.list(userId)).filter((row) => row.id !== id);
    if (
      others.length === 0 &&
      !(await this.secondFactors.isSet(userId)) &&
      (await this.users.isSecondFactorDemanded(userId))
    ) {
      throw new AppError('request.conflict', {
        detail: 'An organisation that you belong to demands a second factor, and you have no other.',
      });
    }
    const gone = await this.repository.delete(userId, id);
    if (gone === null) throw notFound();
    await this.notices.tell(userId, 'passkey-removed', { name: gone.name });
  }

  /** For whoever comes: the passkey says who it is. */
  async proposeUse(origin: Origin) {
    const options = await generateAuthenticationOptions({
      rpID: this.siteOf(origin).hostname,
      userVerification: 'required',
    });
    return this.keep(null, options.challenge, options);
  }

  async signIn(body: InputOf<PasskeyRoutes['signIn']>['body'], origin: Origin): Promise<SignInResult> {
    const user = await this.users.find(await this.verify(body, origin));
    if (user === null) throw new AppError('session.passkey_wrong');
    const { membershipId } = body;
    return this.signIns.begin({ user, method: 'passkey', hasSecondFactor: true, membershipId }, origin);
  }

  async proveSelf(actor: SignedIn, body: Used, origin: Origin): Promise<void> {
    if ((await this.verify(body, origin)) !== actor.userId) throw new AppError('session.passkey_wrong');
    await this.sessions.proveAgain(actor.sessionId, { withSecondFactor: true });
  }

  /** Whose passkey signed the challenge. */
  private async verify({ challengeId, credential }: Used, origin: Origin): Promise<string> {
    const challenge = await this.takeChallenge(challengeId, null);
    const row = await this.repository.findByCredential(fromBase64Url(credential.id));
    if (row === null) throw new AppError('session.passkey_wrong');
    const site = this.siteOf(origin);
    const { verified, authenticationInfo } = await this.orWrong(
      verifyAuthenticationResponse({
        response: credential as unknown as AuthenticationResponseJSON,
        expectedChallenge: challenge,
        expectedOrigin: site.origin,
        expectedRPID: site.hostname,
        requireUserVerification: true,
        credential: {
          id: row.credential_id.toString('base64url'),
          publicKey: new Uint8Array(row.public_key),
          counter: Number(row.sign_count),
          transports: transportsSchema.parse(row.transports),
        },
      }),
    );
    if (!verified || !(await this.repository.use(row.id, authenticationInfo.newCounter))) {
      throw new AppError('session.passkey_wrong');
    }
    return row.user_id;
  }

  private async keep(userId: string | null, challenge: string, options: object) {
    const challengeId = uuidv7();
    await this.repository.insertChallenge(challengeId, userId, challenge);
    return { challengeId, options: { ...options } };
  }

  private async takeChallenge(id: string, userId: string | null): Promise<string> {
    const challenge = await this.repository.takeChallenge(id, userId);
    if (challenge === null) throw new AppError('session.passkey_wrong');
    return challenge;
  }

  /** What the library refuses, in whatever way, is a passkey that is not right. */
  private async orWrong<T>(verification: Promise<T>): Promise<T> {
    try {
      return await verification;
    } catch (error) {
      const reason = error instanceof Error ? error.message : '';
      throw new AppError('session.passkey_wrong', { detail: `The passkey was not taken (${reason.slice(0, 120)}).` });
    }
  }

  /**
   * The site that passkeys belong to: where people reach this installation, else where this request came to. A browser binds a
   * passkey to the site that it shows, so one made here is of no use to a site that only pretends.
   */
  private siteOf({ site }: Origin): URL {
    return new URL(this.env.PUBLIC_URL ?? site);
  }
}
