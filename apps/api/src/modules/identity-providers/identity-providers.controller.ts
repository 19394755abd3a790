import { Controller, Req, Res } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor, SignedIn } from '../../platform/auth/actor.js';
import { By, From, type Origin } from '../../platform/auth/by.decorators.js';
import {
  clearProviderCookie,
  PROVIDER_COOKIE,
  setProviderCookie,
  setSessionCookies,
} from '../../platform/auth/cookies.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { IdentityProvidersService } from './identity-providers.service.js';
import { ProviderSignInsService, type Leaving } from './provider-sign-ins.service.js';

type Providers = typeof routes.identityProviders;
type In<K extends keyof Providers> = InputOf<Providers[K]> & RouteInput<unknown, unknown, unknown>;

const MINUTES = 10;

@Controller()
export class IdentityProvidersController {
  constructor(
    private readonly providers: IdentityProvidersService,
    private readonly signIns: ProviderSignInsService,
  ) {}

  @Handles(routes.identityProviders.list)
  list(@From() origin: Origin) {
    return this.providers.list(origin);
  }

  @Handles(routes.identityProviders.create)
  create(@Input() { body }: In<'create'>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.providers.create(body, actor, origin);
  }

  @Handles(routes.identityProviders.update)
  update(@Input() { params, body, version }: In<'update'>, @By() actor: Actor, @From() origin: Origin) {
    return this.providers.update(params.id, version, body, actor, origin);
  }

  @Handles(routes.identityProviders.begin)
  async begin(@Input() { body }: In<'begin'>, @From() origin: Origin, @Res({ passthrough: true }) reply: FastifyReply) {
    return this.leave(await this.signIns.begin(body.organisationId, origin), reply);
  }

  @Handles(routes.identityProviders.beginAcceptance)
  async beginAcceptance(
    @Input() { body }: In<'beginAcceptance'>,
    @From() origin: Origin,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    return this.leave(await this.signIns.beginAcceptance(body.token, origin), reply);
  }

  @Handles(routes.identityProviders.beginJoin)
  async beginJoin(@By() actor: SignedIn, @From() origin: Origin, @Res({ passthrough: true }) reply: FastifyReply) {
    return this.leave(await this.signIns.beginJoin(actor, origin), reply);
  }

  @Handles(routes.identityProviders.beginProof)
  async beginProof(@By() actor: SignedIn, @From() origin: Origin, @Res({ passthrough: true }) reply: FastifyReply) {
    return this.leave(await this.signIns.beginProof(actor, origin), reply);
  }

  @Handles(routes.identityProviders.complete)
  async complete(
    @Input() { body }: In<'complete'>,
    @From() origin: Origin,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const browserToken = request.cookies[PROVIDER_COOKIE] ?? null;
    clearProviderCookie(reply);
    const { session, me } = await this.signIns.complete(body.query, browserToken, origin, request.id);
    setSessionCookies(reply, session);
    return me;
  }

  private leave({ url, token }: Leaving, reply: FastifyReply) {
    setProviderCookie(reply, token, MINUTES);
    return { url };
  }
}
