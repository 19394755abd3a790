import { Injectable } from '@nestjs/common';
import type { InputOf, Me, routes } from '@repo/contracts';
import type { SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Sessions, type ListedSession } from '../../platform/auth/sessions.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { Credentials } from './credentials.js';
import { Notices } from './notices.js';
import { SignInService } from './sign-in.service.js';
import { UsersRepository } from './users.repository.js';

type Users = typeof routes.users;

/** Opened by an organisation's own sign-in: it sees and ends nothing beyond that organisation. */
const isOfProvider = ({ method }: SignedIn): boolean => method === 'provider';

/** A session as its owner, or an administrator, reads it. */
export const toListedSession = (row: ListedSession) => ({
  id: row.id,
  createdAt: row.created_at.toISOString(),
  lastSeenAt: row.last_seen_at.toISOString(),
  expiresAt: row.expires_at.toISOString(),
  userAgent: row.user_agent,
});

/** The person's own affairs: how they read, where they are signed in, what they were told. */
@Injectable()
export class UsersService {
  constructor(
    private readonly repository: UsersRepository,
    private readonly signIn: SignInService,
    private readonly sessions: Sessions,
    private readonly credentials: Credentials,
    private readonly notices: Notices,
    private readonly cursors: Cursors,
  ) {}

  async update(actor: SignedIn, version: number, body: InputOf<Users['updateMe']>['body']): Promise<Me> {
    // The name is the account's, in every organisation; who came in by one organisation's own sign-in speaks for that one alone.
    if (body.displayName !== undefined && isOfProvider(actor)) throw new AppError('session.own_credential');
    const changed = await this.repository.update(actor.userId, version, body);
    if (changed === null) {
      const now = await this.repository.find(actor.userId);
      assertVersion(now?.version ?? 0, version);
    }
    return this.signIn.me(actor);
  }

  async listSessions(actor: SignedIn) {
    const rows = isOfProvider(actor)
      ? await this.sessions.listOfMembership(actor.organisationId, actor.membershipId)
      : await this.sessions.listOfUser(actor.userId);
    return { items: rows.map((row) => ({ ...toListedSession(row), isThisOne: row.id === actor.sessionId })) };
  }

  async endSession(actor: SignedIn, sessionId: string): Promise<void> {
    const { organisationId, membershipId, userId } = actor;
    const hasEnded = isOfProvider(actor)
      ? await this.sessions.endOfMembership(organisationId, membershipId, sessionId)
      : await this.sessions.end(userId, sessionId);
    if (!hasEnded) throw notFound();
  }

  endOtherSessions(actor: SignedIn): Promise<void> {
    const { organisationId, membershipId, userId, sessionId } = actor;
    return isOfProvider(actor)
      ? this.sessions.endOthersOfMembership(organisationId, membershipId, sessionId)
      : this.sessions.endOthers(userId, sessionId);
  }

  async proveSelf(actor: SignedIn, body: InputOf<Users['proveSelf']>['body'], origin: Origin): Promise<void> {
    const { hasSecondFactor } = await this.credentials.proveAgain(actor.userId, body, origin);
    await this.sessions.proveAgain(actor.sessionId, { withSecondFactor: hasSecondFactor });
  }

  async listNotices(actor: SignedIn, query: InputOf<Users['listNotices']>['query']) {
    if (isOfProvider(actor)) return { items: [], nextCursor: null };
    const list = `notices ${actor.userId}`;
    const rows = await this.notices.list(actor.userId, this.cursors.read(list, query.cursor, 2), query.limit + 1);
    const page = this.cursors.page(list, rows, query.limit, (row) => [row.createdAt, row.id]);
    return { items: page.rows, nextCursor: page.nextCursor };
  }

  async seeNotices(actor: SignedIn): Promise<void> {
    if (!isOfProvider(actor)) await this.notices.see(actor.userId);
  }
}
