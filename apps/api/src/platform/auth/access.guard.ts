import { Inject, Injectable, type CanActivate, type ExecutionContext } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { Route } from '@repo/contracts';
import type { FastifyRequest } from 'fastify';
import { ENV, type Env } from '../../config/env.js';
import { AppError } from '../errors/app-error.js';
import { RateLimits } from '../http/rate-limits.js';
import { ROUTE } from '../http/route.decorator.js';
import type { SignedIn } from './actor.js';
import { ApiKeys, mayKeyCall, readBearer } from './api-keys.js';
import { SESSION_COOKIE } from './cookies.js';
import { Sessions } from './sessions.js';

export interface WithActor {
  actor?: SignedIn;
}

/** A change that a browser was talked into by another site. Sec-Fetch-Site first, Origin where it is missing. */
function assertSameSite(request: FastifyRequest): void {
  if (request.method === 'GET' || request.method === 'HEAD') return;
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined) {
    if (site !== 'same-origin' && site !== 'none') throw new AppError('request.cross_site');
    return;
  }
  const origin = request.headers.origin;
  if (origin === undefined) return;
  if (!URL.canParse(origin) || new URL(origin).host !== request.headers.host) throw new AppError('request.cross_site');
}

/** Who may do what. Closed by default: a handler without a route of the contracts, or a role not named there, is refused. */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    private readonly reflector: Reflector,
    private readonly sessions: Sessions,
    private readonly apiKeys: ApiKeys,
    private readonly limits: RateLimits,
    @Inject(ENV) private readonly env: Env,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const route = this.reflector.get<Route | undefined>(ROUTE, context.getHandler());
    if (route === undefined) throw new AppError('request.not_found');
    const request = context.switchToHttp().getRequest<FastifyRequest & WithActor>();
    assertSameSite(request);
    const actor = route.access === 'public' ? null : await this.identify(request, route);
    if (actor !== null) request.actor = actor;
    await this.limits.count(request);
    if (route.access === 'public') return true;
    if (actor === null) throw new AppError('session.needed');
    if (actor.method === 'key') return true;
    if (route.access !== 'person' && !route.access.includes(actor.role)) throw new AppError('session.role');
    this.assertProven(route, actor);
    return true;
  }

  /** Who asks, by a key or a session; null when neither is good. */
  private async identify(request: FastifyRequest, route: Route): Promise<SignedIn | null> {
    const bearer = readBearer(request.headers.authorization);
    if (bearer !== null) return this.findProgram(bearer, route);
    const token = request.cookies[SESSION_COOKIE];
    return token === undefined ? null : this.sessions.find(token);
  }

  /** A program with a key. It has no session, and nothing to prove beside the key: what asks for that is closed to it. */
  private async findProgram(bearer: string, route: Route): Promise<SignedIn | null> {
    const apiKey = await this.apiKeys.find(bearer);
    if (apiKey === null) return null;
    if (!mayKeyCall(route, apiKey.actor.role, apiKey.scope)) throw new AppError('session.role');
    const now = new Date();
    return {
      ...apiKey.actor,
      expiresAt: now,
      method: 'key',
      hasSecondFactor: false,
      secondFactorDemanded: false,
      authenticatedAt: now,
    };
  }

  /** How sure it is that this is the person, against what the route asks for. */
  private assertProven(route: Route, actor: SignedIn): void {
    if (actor.secondFactorDemanded && !actor.hasSecondFactor && route.beforeSecondFactor !== true) {
      throw new AppError('session.second_factor_demanded');
    }
    if (route.ownCredential === true && actor.method === 'provider') throw new AppError('session.own_credential');
    const provenForMs = Date.now() - actor.authenticatedAt.getTime();
    if (route.recentProof === true && provenForMs > this.env.PROOF_MINUTES * 60_000) {
      throw new AppError('session.proof_needed');
    }
  }
}
