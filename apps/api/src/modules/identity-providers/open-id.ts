import { Inject, Injectable, Logger } from '@nestjs/common';
import * as client from 'openid-client';
import { ENV, type Env } from '../../config/env.js';
import { AppError } from '../../platform/errors/app-error.js';
import { guardedFetch } from './guarded-fetch.js';

export interface Provider {
  readonly issuer: string;
  readonly clientId: string;
  readonly clientSecret: string;
}

/** What a sign-in that has left is to come back with. */
export interface Expected {
  readonly codeVerifier: string;
  readonly nonce: string;
  readonly state: string;
}

/** How old a proof by the provider may be [s]. */
const PROOF_AGE_S = 60;

/** OpenID Connect towards one provider: discovery, the way there (code flow with PKCE), the way back. */
@Injectable()
export class OpenId {
  private readonly log = new Logger(OpenId.name);

  constructor(@Inject(ENV) private readonly env: Env) {}

  /** Reads the discovery document. @throws AppError provider.unusable */
  async discover({ issuer, clientId, clientSecret }: Provider): Promise<client.Configuration> {
    const mayBePrivate = this.env.PRIVATE_PROVIDERS === 'allowed';
    try {
      return await client.discovery(new URL(issuer), clientId, clientSecret, undefined, {
        [client.customFetch]: (url, options) => guardedFetch(url, options, mayBePrivate),
        execute: mayBePrivate ? [client.allowInsecureRequests] : [],
      });
    } catch (error) {
      this.log.warn(`a provider cannot be used: ${error instanceof Error ? error.message : String(error)}`);
      throw new AppError('provider.unusable');
    }
  }

  /** Where the browser goes. `again` asks the provider to have the person prove themselves anew. */
  async leave(
    configuration: client.Configuration,
    redirectUri: string,
    state: string,
    { again }: { again: boolean },
  ): Promise<{ url: string; codeVerifier: string; nonce: string }> {
    const codeVerifier = client.randomPKCECodeVerifier();
    const nonce = client.randomNonce();
    const url = client.buildAuthorizationUrl(configuration, {
      redirect_uri: redirectUri,
      scope: 'openid profile email',
      code_challenge: await client.calculatePKCECodeChallenge(codeVerifier),
      code_challenge_method: 'S256',
      state,
      nonce,
      ...(again ? { prompt: 'login', max_age: '0' } : {}),
    });
    return { url: url.href, codeVerifier, nonce };
  }

  /** Whom the provider means. @throws AppError provider.refused */
  async comeBack(
    configuration: client.Configuration,
    currentUrl: URL,
    { codeVerifier, nonce, state }: Expected,
    { again }: { again: boolean },
  ): Promise<{ subject: string; email: string | null }> {
    try {
      const tokens = await client.authorizationCodeGrant(configuration, currentUrl, {
        pkceCodeVerifier: codeVerifier,
        expectedNonce: nonce,
        expectedState: state,
        idTokenExpected: true,
        ...(again ? { maxAge: PROOF_AGE_S } : {}),
      });
      const claims = tokens.claims();
      if (claims === undefined) throw new AppError('provider.refused');
      return { subject: claims.sub, email: typeof claims['email'] === 'string' ? claims['email'] : null };
    } catch (error) {
      this.log.warn(`a sign-in by a provider failed: ${error instanceof Error ? error.message : String(error)}`);
      throw new AppError('provider.refused');
    }
  }
}
