import { Injectable } from '@nestjs/common';
import { meSchema, type InputOf, type Me, type routes } from '@repo/contracts';
import type { SessionMethod, SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import type { BegunSession } from '../../platform/auth/cookies.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Credentials } from './credentials.js';
import { KnownDevices } from './known-devices.js';
import { Notices } from './notices.js';
import { UsersRepository, type MembershipRow, type UserRow } from './users.repository.js';

type Users = typeof routes.users;

export interface SignInResult {
  session: BegunSession;
  me: Me;
}

const summary = (row: MembershipRow) => ({
  id: row.id,
  role: row.role,
  organisationId: row.organisation_id,
  organisationName: row.organisation_name,
  customerId: row.customer_id,
});

/** Opens sessions, and says who is signed in. */
@Injectable()
export class SignInService {
  constructor(
    private readonly repository: UsersRepository,
    private readonly credentials: Credentials,
    private readonly sessions: Sessions,
    private readonly devices: KnownDevices,
    private readonly notices: Notices,
  ) {}

  /** By e-mail and password. An ended membership answers like a wrong password. */
  async signIn(body: InputOf<Users['signIn']>['body'], origin: Origin): Promise<SignInResult> {
    const { user, hasSecondFactor } = await this.credentials.verify(body, origin);
    return this.begin(
      { user, method: 'password', hasSecondFactor, membershipId: body.membershipId, isPasswordChecked: true },
      origin,
    );
  }

  /** A session of a person who has proved who they are, under one of their memberships. */
  async begin(
    session: {
      user: UserRow;
      method: SessionMethod;
      hasSecondFactor: boolean;
      membershipId?: string | undefined;
      /** the session is not begun when the password has changed since it was checked */
      isPasswordChecked?: boolean;
      authenticatedAt?: Date;
      expiresAt?: Date;
    },
    origin: Origin,
  ): Promise<SignInResult> {
    const { user, method, hasSecondFactor } = session;
    const memberships = await this.repository.listMembershipsOf(user.id);
    const membership =
      session.membershipId === undefined ? memberships[0] : memberships.find(({ id }) => id === session.membershipId);
    if (membership === undefined) throw new AppError('session.wrong');
    const begun = await this.sessions.begin({
      userId: user.id,
      membershipId: membership.id,
      organisationId: membership.organisation_id,
      method,
      hasSecondFactor,
      userAgent: origin.userAgent,
      ...(session.authenticatedAt === undefined ? {} : { authenticatedAt: session.authenticatedAt }),
      ...(session.expiresAt === undefined ? {} : { expiresAt: session.expiresAt }),
      ...(session.isPasswordChecked === true && user.password_hash !== null
        ? { passwordHash: user.password_hash }
        : {}),
    });
    if (begun === null) throw new AppError('session.wrong');
    const deviceToken = await this.devices.remember(user.id, origin);
    const signedIn = await this.sessions.find(begun.token);
    if (signedIn === null) throw new AppError('session.wrong');
    return { session: { ...begun, deviceToken }, me: await this.me(signedIn) };
  }

  /**
   * Goes on under another membership of the same account; the session before ends. It is no proof of anything, and no new session:
   * what was proved when, and when it ends, stays as it was.
   */
  async switchMembership(actor: SignedIn, membershipId: string, origin: Origin): Promise<SignInResult> {
    const user = await this.repository.find(actor.userId);
    const memberships = await this.repository.listMembershipsOf(actor.userId);
    if (user === null || memberships.every(({ id }) => id !== membershipId)) throw notFound();
    const { method, hasSecondFactor, authenticatedAt, expiresAt } = actor;
    const session = { user, method, hasSecondFactor, membershipId, authenticatedAt, expiresAt };
    const result = await this.begin(session, origin);
    await this.sessions.end(actor.userId, actor.sessionId);
    return result;
  }

  async me(actor: SignedIn): Promise<Me> {
    const [user, memberships, unseenNotices] = await Promise.all([
      this.repository.find(actor.userId),
      this.repository.listMembershipsOf(actor.userId),
      // What happened elsewhere is not the business of an organisation's own sign-in.
      actor.method === 'provider' ? 0 : this.notices.countUnseen(actor.userId),
    ]);
    const membership = memberships.find((one) => one.id === actor.membershipId);
    if (user === null || membership === undefined) throw new AppError('session.needed');
    return {
      userId: user.id,
      email: user.email,
      emailProven: user.email_proven_at !== null,
      displayName: user.display_name,
      pressureUnit: meSchema.shape.pressureUnit.parse(user.pressure_unit),
      theme: meSchema.shape.theme.parse(user.theme),
      locale: user.locale,
      version: user.version,
      membership: summary(membership),
      // What an organisation's own sign-in says counts there alone: it is not told of the others.
      memberships: (actor.method === 'provider' ? [membership] : memberships).map(summary),
      isInvented: membership.is_invented,
      sessionExpiresAt: actor.expiresAt.toISOString(),
      method: actor.method,
      hasSecondFactor: actor.hasSecondFactor,
      secondFactorDemanded: actor.secondFactorDemanded,
      unseenNotices,
    };
  }
}
