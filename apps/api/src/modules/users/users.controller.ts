import { Controller, Res } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { FastifyReply } from 'fastify';
import type { SignedIn } from '../../platform/auth/actor.js';
import { By, From, type Origin } from '../../platform/auth/by.decorators.js';
import { clearSessionCookie, setSessionCookies } from '../../platform/auth/cookies.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { AccountService } from './account.service.js';
import { SignInService } from './sign-in.service.js';
import { UsersService } from './users.service.js';

type Users = typeof routes.users;
type In<K extends keyof Users> = InputOf<Users[K]> & RouteInput<unknown, unknown, unknown>;

@Controller()
export class UsersController {
  constructor(
    private readonly users: UsersService,
    private readonly signIns: SignInService,
    private readonly accounts: AccountService,
  ) {}

  @Handles(routes.users.signIn)
  async signIn(
    @Input() { body }: In<'signIn'>,
    @From() origin: Origin,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const { session, me } = await this.signIns.signIn(body, origin);
    setSessionCookies(reply, session);
    return me;
  }

  @Handles(routes.users.signOut)
  async signOut(@By() actor: SignedIn, @Res({ passthrough: true }) reply: FastifyReply) {
    await this.users.endSession(actor, actor.sessionId);
    clearSessionCookie(reply);
  }

  @Handles(routes.users.listSessions)
  listSessions(@By() actor: SignedIn) {
    return this.users.listSessions(actor);
  }

  @Handles(routes.users.endSession)
  endSession(@Input() { params }: In<'endSession'>, @By() actor: SignedIn) {
    return this.users.endSession(actor, params.id);
  }

  @Handles(routes.users.endOtherSessions)
  endOtherSessions(@By() actor: SignedIn) {
    return this.users.endOtherSessions(actor);
  }

  @Handles(routes.users.me)
  me(@By() actor: SignedIn) {
    return this.signIns.me(actor);
  }

  @Handles(routes.users.updateMe)
  updateMe(@Input() { body, version }: In<'updateMe'>, @By() actor: SignedIn) {
    return this.users.update(actor, version, body);
  }

  @Handles(routes.users.proveSelf)
  proveSelf(@Input() { body }: In<'proveSelf'>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.users.proveSelf(actor, body, origin);
  }

  @Handles(routes.users.changePassword)
  changePassword(@Input() { body }: In<'changePassword'>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.accounts.changePassword(actor, body, origin);
  }

  @Handles(routes.users.requestPasswordReset)
  requestPasswordReset(@Input() { body }: In<'requestPasswordReset'>, @From() origin: Origin) {
    return this.accounts.requestPasswordReset(body.email, origin);
  }

  @Handles(routes.users.resetPassword)
  resetPassword(@Input() { body }: In<'resetPassword'>) {
    return this.accounts.resetPassword(body);
  }

  @Handles(routes.users.requestAddressProof)
  requestAddressProof(@Input() { body }: In<'requestAddressProof'>, @By() actor: SignedIn) {
    return this.accounts.requestAddressProof(actor, body.email);
  }

  @Handles(routes.users.completeAddressProof)
  completeAddressProof(@Input() { body }: In<'completeAddressProof'>, @By() actor: SignedIn) {
    return this.accounts.completeAddressProof(actor, body.token);
  }

  @Handles(routes.users.switchMembership)
  async switchMembership(
    @Input() { body }: In<'switchMembership'>,
    @By() actor: SignedIn,
    @From() origin: Origin,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const { session, me } = await this.signIns.switchMembership(actor, body.membershipId, origin);
    setSessionCookies(reply, session);
    return me;
  }

  @Handles(routes.users.listNotices)
  listNotices(@Input() { query }: In<'listNotices'>, @By() actor: SignedIn) {
    return this.users.listNotices(actor, query);
  }

  @Handles(routes.users.seeNotices)
  seeNotices(@By() actor: SignedIn) {
    return this.users.seeNotices(actor);
  }
}
