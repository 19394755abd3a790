import { Controller, Req, Res } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor, SignedIn } from '../../platform/auth/actor.js';
import { By, From, type Origin } from '../../platform/auth/by.decorators.js';
import { setSessionCookies } from '../../platform/auth/cookies.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { AcceptanceService } from './acceptance.service.js';
import { InvitationsService } from './invitations.service.js';

type Invitations = typeof routes.invitations;
type In<K extends keyof Invitations> = InputOf<Invitations[K]> & RouteInput<unknown, unknown, unknown>;

@Controller()
export class InvitationsController {
  constructor(
    private readonly invitations: InvitationsService,
    private readonly acceptance: AcceptanceService,
  ) {}

  @Handles(routes.invitations.list)
  list(@Input() { query }: In<'list'>) {
    return this.invitations.list(query);
  }

  @Handles(routes.invitations.create)
  create(@Input() { body }: In<'create'>, @By() actor: Actor) {
    return this.invitations.create(body, actor);
  }

  @Handles(routes.invitations.handOver)
  handOver(@Input() { params, body }: In<'handOver'>, @By() actor: Actor) {
    return this.invitations.handOver(params.id, body, actor);
  }

  @Handles(routes.invitations.renew)
  renew(@Input() { params }: In<'renew'>, @By() actor: Actor) {
    return this.invitations.renew(params.id, actor);
  }

  @Handles(routes.invitations.withdraw)
  withdraw(@Input() { params }: In<'withdraw'>) {
    return this.invitations.withdraw(params.id);
  }

  @Handles(routes.invitations.read)
  read(@Input() { body }: In<'read'>) {
    return this.acceptance.read(body.token);
  }

  @Handles(routes.invitations.accept)
  async accept(
    @Input() { body }: In<'accept'>,
    @From() origin: Origin,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const { session, me } = await this.acceptance.accept(body.token, body.as, origin, request.id);
    setSessionCookies(reply, session);
    return me;
  }

  @Handles(routes.invitations.acceptAsMe)
  async acceptAsMe(
    @Input() { body }: In<'acceptAsMe'>,
    @By() actor: SignedIn,
    @From() origin: Origin,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const { session, me } = await this.acceptance.acceptAsMe(body.token, actor, origin, request.id);
    setSessionCookies(reply, session);
    return me;
  }
}
