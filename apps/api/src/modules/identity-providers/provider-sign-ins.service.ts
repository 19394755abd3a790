import { Inject, Injectable } from '@nestjs/common';
import { uuidv7 } from 'uuidv7';
import { ENV, type Env } from '../../config/env.js';
import type { SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { makeToken, Sessions, sha256 } from '../../platform/auth/sessions.js';
import { Vault } from '../../platform/auth/vault.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { AcceptanceService } from '../memberships/index.js';
import { SignInService, UsersRepository, type SignInResult } from '../users/index.js';
import { CLIENT_SECRETS, toRedirectUri } from './identity-providers.service.js';
import { OpenId } from './open-id.js';
import {
  ProviderSignInsRepository,
  type LeftSignIn,
  type LiveProvider,
  type Purpose,
} from './provider-sign-ins.repository.js';

const CODE_VERIFIERS = 'code verifiers of provider sign-ins';

const NEVER = new Date(0);

export interface Leaving {
  readonly url: string;
  /** goes into the browser's cookie: only there it can come back */
  readonly token: string;
}

interface Reason {
  readonly purpose: Purpose;
  readonly membershipId?: string;
  readonly invitationId?: string;
  readonly sessionId?: string;
}

/** Leaves for an organisation's own sign-in and comes back. What it says opens a session of that organisation, and no other. */
@Injectable()
export class ProviderSignInsService {
  constructor(
    private readonly repository: ProviderSignInsRepository,
    private readonly openId: OpenId,
    private readonly vault: Vault,
    private readonly users: UsersRepository,
    private readonly signIns: SignInService,
    private readonly sessions: Sessions,
    private readonly acceptance: AcceptanceService,
    @Inject(ENV) private readonly env: Env,
  ) {}

  begin(organisationId: string, origin: Origin): Promise<Leaving> {
    return this.leave(organisationId, { purpose: 'sign-in' }, origin);
  }

  async beginAcceptance(token: string, origin: Origin): Promise<Leaving> {
    const { id, organisation_id } = await this.acceptance.find(token);
    return this.leave(organisation_id, { purpose: 'accept', invitationId: id }, origin);
  }

  beginJoin({ organisationId, membershipId }: SignedIn, origin: Origin): Promise<Leaving> {
    return this.leave(organisationId, { purpose: 'join', membershipId }, origin);
  }

  beginProof({ organisationId, membershipId, sessionId }: SignedIn, origin: Origin): Promise<Leaving> {
    return this.leave(organisationId, { purpose: 'prove', membershipId, sessionId }, origin);
  }

  /**
   * Comes back. `browserToken` is what the browser was given when it left: an answer that was begun elsewhere is refused, so that
   * nobody is talked into somebody else's session.
   */
  async complete(query: string, browserToken: string | null, origin: Origin, requestId: string): Promise<SignInResult> {
    const currentUrl = new URL(`?${query.replace(/^\?/, '')}`, toRedirectUri(this.env, origin));
    const state = currentUrl.searchParams.get('state') ?? '';
    const [organisationId = '', id = ''] = state.split('.');
    const isId = (text: string): boolean => /^[0-9a-f-]{36}$/.test(text);
    if (browserToken === null || !isId(organisationId) || !isId(id)) throw new AppError('provider.refused');
    const left = await this.repository.take(organisationId, id, sha256(state + browserToken));
    const provider = left === null ? null : await this.repository.findLive(left.organisation_id);
    if (left === null || provider === null || provider.id !== left.identity_provider_id) {
      throw new AppError('provider.refused');
    }
    const configuration = await this.openId.discover(this.toClient(provider));
    const codeVerifier = this.vault
      .open({ purpose: CODE_VERIFIERS, owner: left.id }, left.code_verifier_sealed)
      .toString('utf8');
    const expected = { codeVerifier, nonce: left.nonce, state };
    const again = left.purpose === 'prove';
    const person = await this.openId.comeBack(configuration, currentUrl, expected, { again });
    return this.arrive(left, provider, person, origin, requestId);
  }

  private async arrive(
    left: LeftSignIn,
    provider: LiveProvider,
    person: { subject: string; email: string | null },
    origin: Origin,
    requestId: string,
  ): Promise<SignInResult> {
    const { organisation_id: organisationId } = left;
    const known = await this.repository.findMembership(organisationId, provider.id, person.subject);
    if (left.purpose === 'accept' && left.invitation_id !== null) {
      if (known !== null) throw new AppError('membership.exists');
      const { user, membershipId } = await this.acceptance.acceptFromProvider(
        organisationId,
        left.invitation_id,
        person.email,
        requestId,
      );
      await this.join(organisationId, membershipId, user.id, provider, person.subject);
      return this.open(user.id, membershipId, origin);
    }
    if (left.purpose === 'join' && left.membership_id !== null) {
      const user = await this.users.findOfMembership(organisationId, left.membership_id);
      if (user === null || (known !== null && known.membership_id !== left.membership_id)) {
        throw new AppError('provider.refused');
      }
      if (known === null) await this.join(organisationId, left.membership_id, user.id, provider, person.subject);
      return this.open(user.id, left.membership_id, origin);
    }
    if (known === null) throw new AppError('provider.unknown');
    if (left.purpose === 'prove' && left.session_id !== null) {
      if (known.membership_id !== left.membership_id) throw new AppError('provider.refused');
      await this.sessions.proveByProvider(organisationId, left.session_id);
    }
    return this.open(known.user_id, known.membership_id, origin, { isProof: left.purpose === 'prove' });
  }

  private async join(
    organisationId: string,
    membershipId: string,
    userId: string,
    provider: LiveProvider,
    subject: string,
  ): Promise<void> {
    const actor = {
      sessionId: membershipId,
      userId,
      membershipId,
      organisationId,
      customerId: null,
      role: 'lead' as const,
      displayName: provider.name,
    };
    const joined = await this.repository.join(actor, { id: uuidv7(), providerId: provider.id, subject });
    if (!joined) throw new AppError('provider.refused');
  }

  /**
   * A session of this organisation alone. Its own sign-in counts as two factors: what it asks for is its organisation's choice. It may
   * have let somebody through without asking anything, so only one that was asked for a proof counts as proved just now.
   */
  private async open(
    userId: string,
    membershipId: string,
    origin: Origin,
    { isProof = false }: { isProof?: boolean } = {},
  ): Promise<SignInResult> {
    const user = await this.users.find(userId);
    if (user === null) throw new AppError('provider.unknown');
    const proof = isProof ? {} : { authenticatedAt: NEVER };
    return this.signIns.begin({ user, method: 'provider', hasSecondFactor: true, membershipId, ...proof }, origin);
  }

  private async leave(organisationId: string, reason: Reason, origin: Origin): Promise<Leaving> {
    const provider = await this.repository.findLive(organisationId);
    if (provider === null) throw notFound();
    const configuration = await this.openId.discover(this.toClient(provider));
    const [id, token] = [uuidv7(), makeToken()];
    const state = `${organisationId}.${id}.${makeToken()}`;
    const again = reason.purpose === 'prove';
    const redirectUri = toRedirectUri(this.env, origin);
    const { url, codeVerifier, nonce } = await this.openId.leave(configuration, redirectUri, state, { again });
    await this.repository.insert({
      organisationId,
      id,
      identityProviderId: provider.id,
      stateHash: sha256(state + token),
      nonce,
      codeVerifierSealed: this.vault.seal({ purpose: CODE_VERIFIERS, owner: id }, Buffer.from(codeVerifier)),
      purpose: reason.purpose,
      membershipId: reason.membershipId ?? null,
      invitationId: reason.invitationId ?? null,
      sessionId: reason.sessionId ?? null,
    });
    return { url, token };
  }

  private toClient(provider: LiveProvider) {
    const { id, issuer, client_id: clientId, client_secret_sealed: sealed } = provider;
    const secret = this.vault.tryOpen({ purpose: CLIENT_SECRETS, owner: id }, sealed);
    // Sealed under another APP_SECRET: an administrator gives it again.
    if (secret === null) throw new AppError('provider.unusable');
    return { issuer, clientId, clientSecret: secret.toString('utf8') };
  }
}
