import { Controller, Req, Res } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { SESSION_COOKIE, type WithActor } from '../../platform/auth/access.guard.js';
import { AppError } from '../../platform/errors/app-error.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { UsersService } from './users.service.js';

type Users = typeof routes.users;
type In<K extends keyof Users> = InputOf<Users[K]> & RouteInput<unknown, unknown, unknown>;
const COOKIE = { path: '/', httpOnly: true, secure: true, sameSite: 'lax' } as const;

const actorOf = (request: WithActor) => {
  if (request.actor === undefined) throw new AppError('session.needed');
  return request.actor;
};

@Controller()
export class UsersController {
  constructor(private readonly users: UsersService) {}

  @Handles(routes.users.signIn)
  async signIn(
    @Input() { body }: In<'signIn'>,
    @Req() request: FastifyRequest,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const from = { address: request.ip, userAgent: request.headers['user-agent'] ?? '' };
    const { token, me } = await this.users.signIn(body, from);
    reply.setCookie(SESSION_COOKIE, token, { ...COOKIE, expires: new Date(me.sessionExpiresAt) });
    return me;
  }

  @Handles(routes.users.signOut)
  async signOut(@Req() request: WithActor, @Res({ passthrough: true }) reply: FastifyReply) {
    const actor = actorOf(request);
    await this.users.endSession(actor, actor.sessionId);
    reply.clearCookie(SESSION_COOKIE, COOKIE);
  }

  @Handles(routes.users.listSessions)
  listSessions(@Req() request: WithActor) {
    return this.users.listSessions(actorOf(request));
  }

  @Handles(routes.users.endSession)
  endSession(@Input() { params }: In<'endSession'>, @Req() request: WithActor) {
    return this.users.endSession(actorOf(request), params.id);
  }

  @Handles(routes.users.me)
  me(@Req() request: WithActor) {
    return this.users.me(actorOf(request));
  }

  @Handles(routes.users.updateMe)
  updateMe(@Input() { body, version }: In<'updateMe'>, @Req() request: WithActor) {
    return this.users.updateMe(actorOf(request), version, body);
  }

  @Handles(routes.users.listMemberships)
  listMemberships(@Input() { query }: In<'listMemberships'>) {
    return this.users.listMemberships(query);
  }

  @Handles(routes.users.getMembership)
  getMembership(@Input() { params }: In<'getMembership'>) {
    return this.users.getMembership(params.id);
  }

  @Handles(routes.users.createMembership)
  createMembership(@Input() { body }: In<'createMembership'>) {
    return this.users.createMembership(body);
  }

  @Handles(routes.users.updateMembership)
  updateMembership(@Input() { params, body, version }: In<'updateMembership'>, @Req() request: WithActor) {
    return this.users.updateMembership(params.id, version, body, actorOf(request));
  }
}
