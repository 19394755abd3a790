import { Controller, Res } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import type { FastifyReply } from 'fastify';
import type { SignedIn } from '../../platform/auth/actor.js';
import { By, From, type Origin } from '../../platform/auth/by.decorators.js';
import { setSessionCookies } from '../../platform/auth/cookies.js';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { PasskeysService } from './passkeys.service.js';

type Passkeys = typeof routes.passkeys;
type In<K extends keyof Passkeys> = InputOf<Passkeys[K]> & RouteInput<unknown, unknown, unknown>;

@Controller()
export class PasskeysController {
  constructor(private readonly passkeys: PasskeysService) {}

  @Handles(routes.passkeys.list)
  list(@By() actor: SignedIn) {
    return this.passkeys.list(actor);
  }

  @Handles(routes.passkeys.proposeNew)
  proposeNew(@By() actor: SignedIn, @From() origin: Origin) {
    return this.passkeys.proposeNew(actor, origin);
  }

  @Handles(routes.passkeys.create)
  create(@Input() { body }: In<'create'>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.passkeys.create(actor, body, origin);
  }

  @Handles(routes.passkeys.remove)
  remove(@Input() { params }: In<'remove'>, @By() actor: SignedIn) {
    return this.passkeys.remove(actor, params.id);
  }

  @Handles(routes.passkeys.proposeUse)
  proposeUse(@From() origin: Origin) {
    return this.passkeys.proposeUse(origin);
  }

  @Handles(routes.passkeys.signIn)
  async signIn(
    @Input() { body }: In<'signIn'>,
    @From() origin: Origin,
    @Res({ passthrough: true }) reply: FastifyReply,
  ) {
    const { session, me } = await this.passkeys.signIn(body, origin);
    setSessionCookies(reply, session);
    return me;
  }

  @Handles(routes.passkeys.proveSelf)
  proveSelf(@Input() { body }: In<'proveSelf'>, @By() actor: SignedIn, @From() origin: Origin) {
    return this.passkeys.proveSelf(actor, body, origin);
  }
}
