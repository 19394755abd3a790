import { Injectable } from '@nestjs/common';
import type { BodyOf, InputOf, Me, Membership, routes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import type { Actor } from '../../platform/auth/actor.js';
import { Audit } from '../../platform/audit/audit.js';
import { Passwords } from '../../platform/auth/passwords.js';
import { Sessions, sha256 } from '../../platform/auth/sessions.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { UsersRepository, type MembershipRow, type UserRow } from './users.repository.js';

type Users = typeof routes.users;
/** Guesses in a quarter of an hour: of one e-mail from one address, and of any from one address. */
const PAIR_LIMIT = 10;
const ADDRESS_LIMIT = 100;

const summary = (row: MembershipRow) => ({
  id: row.id,
  role: row.role,
  organisationId: row.organisation_id,
  organisationName: row.organisation_name,
  customerId: row.customer_id,
});

@Injectable()
export class UsersService {
  constructor(
    private readonly repository: UsersRepository,
    private readonly passwords: Passwords,
    private readonly sessions: Sessions,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  /**
   * Signs in. Unknown e-mail, wrong password and ended membership answer alike and take as long. Guessing is slowed per pair
   * of e-mail and address, so that nobody can lock another person out.
   */
  async signIn(
    body: InputOf<Users['signIn']>['body'],
    from: { address: string; userAgent: string },
  ): Promise<{ token: string; me: Me }> {
    const emailHash = sha256(body.email.toLowerCase());
    const addressHash = sha256(from.address);
    const failures = await this.repository.countFailures(emailHash, addressHash);
    if (failures.pair >= PAIR_LIMIT || failures.address >= ADDRESS_LIMIT) {
      throw new AppError('request.too_many', {
        detail: 'Too many attempts. Wait a quarter of an hour.',
        retryAfterS: 900,
      });
    }
    const user = await this.repository.findByEmail(body.email);
    const right = await this.passwords.matches(user?.password_hash ?? null, body.password);
    const memberships = user !== null && right ? await this.repository.listMembershipsOf(user.id) : [];
    const membership =
      body.membershipId === undefined ? memberships[0] : memberships.find((one) => one.id === body.membershipId);
    await this.repository.recordAttempt(uuidv7(), emailHash, addressHash, membership !== undefined);
    if (user === null || membership === undefined) throw new AppError('session.wrong');
    const { token, expiresAt } = await this.sessions.begin({
      userId: user.id,
      membershipId: membership.id,
      organisationId: membership.organisation_id,
      userAgent: from.userAgent,
    });
    return { token, me: this.toMe(user, membership, memberships, expiresAt) };
  }

  async me(actor: Actor & { expiresAt: Date }): Promise<Me> {
    const [user, memberships] = await Promise.all([
      this.repository.find(actor.userId),
      this.repository.listMembershipsOf(actor.userId),
    ]);
    const membership = memberships.find((one) => one.id === actor.membershipId);
    if (user === null || membership === undefined) throw new AppError('session.needed');
    return this.toMe(user, membership, memberships, actor.expiresAt);
  }

  async updateMe(
    actor: Actor & { expiresAt: Date },
    version: number,
    body: InputOf<Users['updateMe']>['body'],
  ): Promise<Me> {
    const changed = await this.repository.update(actor.userId, version, body);
    if (changed === null) {
      const now = await this.repository.find(actor.userId);
      assertVersion(now?.version ?? 0, version);
    }
    return this.me(actor);
  }

  async listSessions(actor: Actor) {
    const rows = await this.repository.listSessions(actor.userId);
    return {
      items: rows.map((row) => ({
        id: row.id,
        createdAt: row.created_at.toISOString(),
        lastSeenAt: row.last_seen_at.toISOString(),
        expiresAt: row.expires_at.toISOString(),
        userAgent: row.user_agent,
        isThisOne: row.id === actor.sessionId,
      })),
    };
  }

  async endSession(actor: Actor, sessionId: string): Promise<void> {
    if (!(await this.sessions.end(actor.userId, sessionId))) throw notFound();
  }

  async listMemberships(query: InputOf<Users['listMemberships']>['query']) {
    const after = this.cursors.read('memberships', query.cursor, 1);
    const rows = await this.repository.listMemberships(after, query.limit, query.staffOnly === 'true');
    const page = this.cursors.page('memberships', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map((row) => this.toMembership(row)), nextCursor: page.nextCursor };
  }

  async getMembership(id: string): Promise<Membership> {
    const row = await this.repository.findMembership(id);
    if (row === null) throw notFound();
    return this.toMembership(row);
  }

  async createMembership(body: InputOf<Users['createMembership']>['body']): Promise<Membership> {
    if (body.password.toLowerCase().includes(body.email.split('@', 1)[0]?.toLowerCase() ?? body.email)) {
      throw invalidField('password', '…', 'a password without the e-mail name in it');
    }
    const userId = await this.repository.ensureUser({
      id: uuidv7(),
      email: body.email,
      displayName: body.displayName,
      passwordHash: await this.passwords.hash(body.password),
    });
    const { id, customerId, role, displayName } = body;
    const row = await this.repository.insertMembership({ id, userId, customerId, role, displayName });
    await this.audit.record({
      action: 'create',
      entity: 'membership',
      entityId: id,
      changes: { role, displayName, customerId },
    });
    return this.toMembership(row);
  }

  async updateMembership(
    id: string,
    version: number,
    body: NonNullable<BodyOf<Users['updateMembership']>>,
    actor: Actor,
  ): Promise<Membership> {
    const before = await this.getMembership(id);
    assertVersion(before.version, version);
    if (id === actor.membershipId && (body.archived === true || (body.role ?? before.role) !== before.role)) {
      throw invalidField('role', body.role ?? 'archived', 'another administrator to take away your own rights');
    }
    const isForCustomer = (role: string): boolean => role === 'viewer' || role === 'customer-administrator';
    if (body.role !== undefined && isForCustomer(body.role) !== (before.customerId !== null)) {
      throw invalidField('role', body.role, "a role on the same side: the integrator's or the customer's");
    }
    const changed = await this.repository.updateMembership(id, version, {
      ...(body.displayName === undefined ? {} : { displayName: body.displayName }),
      ...(body.role === undefined ? {} : { role: body.role }),
      ...(body.archived === undefined ? {} : { archivedAt: body.archived ? new Date() : null }),
    });
    if (!changed) throw new AppError('request.stale');
    await this.audit.record({ action: 'update', entity: 'membership', entityId: id, changes: { ...body } });
    return this.getMembership(id);
  }

  private toMe(user: UserRow, current: MembershipRow, all: MembershipRow[], expiresAt: Date): Me {
    return {
      userId: user.id,
      email: user.email,
      displayName: user.display_name,
      pressureUnit: user.pressure_unit as Me['pressureUnit'],
      theme: user.theme as Me['theme'],
      locale: user.locale,
      version: user.version,
      membership: summary(current),
      memberships: all.map(summary),
      isInvented: current.is_invented,
      sessionExpiresAt: expiresAt.toISOString(),
    };
  }

  private toMembership(row: Awaited<ReturnType<UsersRepository['insertMembership']>>): Membership {
    return {
      id: row.id,
      displayName: row.displayName,
      role: row.role as Membership['role'],
      customerId: row.customerId,
      customerName: row.customer?.name ?? null,
      createdAt: row.createdAt.toISOString(),
      archivedAt: row.archivedAt?.toISOString() ?? null,
      version: row.version,
    };
  }
}
