import { Injectable } from '@nestjs/common';
import { membershipSchema, type BodyOf, type InputOf, type Membership, type routes } from '@repo/contracts';
import type { Actor } from '../../platform/auth/actor.js';
import { Audit } from '../../platform/audit/audit.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { isoOrNull } from '../../platform/http/quantity-out.js';
import { Notices, toListedSession } from '../users/index.js';
import { InvitationsRepository } from './invitations.repository.js';
import { MembershipsRepository, type MembershipRow } from './memberships.repository.js';

type Memberships = typeof routes.memberships;

const isForCustomer = (role: string): boolean => role === 'viewer' || role === 'customer-administrator';

const toMembership = (row: MembershipRow): Membership => ({
  id: row.id,
  displayName: row.displayName,
  role: membershipSchema.shape.role.parse(row.role),
  customerId: row.customerId,
  customerName: row.customer?.name ?? null,
  createdAt: row.createdAt.toISOString(),
  acceptedAt: isoOrNull(row.acceptedAt),
  archivedAt: isoOrNull(row.archivedAt),
  version: row.version,
});

@Injectable()
export class MembershipsService {
  constructor(
    private readonly repository: MembershipsRepository,
    private readonly invitations: InvitationsRepository,
    private readonly sessions: Sessions,
    private readonly cursors: Cursors,
    private readonly notices: Notices,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Memberships['list']>['query']) {
    const after = this.cursors.read('memberships', query.cursor, 1);
    const rows = await this.repository.list(after, query.limit, query.staffOnly === 'true');
    const page = this.cursors.page('memberships', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map(toMembership), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Membership> {
    return toMembership(await this.find(id));
  }

  async update(
    id: string,
    version: number,
    body: NonNullable<BodyOf<Memberships['update']>>,
    actor: Actor,
  ): Promise<Membership> {
    const before = await this.find(id);
    assertVersion(before.version, version);
    const role = body.role ?? before.role;
    const isArchived = body.archived ?? before.archivedAt !== null;
    if (id === actor.membershipId && (isArchived || role !== before.role)) {
      throw invalidField('role', body.role ?? 'archived', 'another administrator to take away your own rights');
    }
    if (isForCustomer(role) !== (before.customerId !== null)) {
      throw invalidField('role', role, "a role on the same side: the integrator's or the customer's");
    }
    const losesAdministration = before.role === 'administrator' && (isArchived || role !== 'administrator');
    if (losesAdministration) await this.assertNotLastAdministrator(id);
    const isEndChanged = body.archived !== undefined && isArchived !== (before.archivedAt !== null);
    const changed = await this.repository.update(
      id,
      version,
      {
        ...(body.displayName === undefined ? {} : { displayName: body.displayName }),
        ...(body.role === undefined ? {} : { role: body.role }),
        ...(isEndChanged ? { archivedAt: isArchived ? new Date() : null } : {}),
      },
      { endsSessions: isEndChanged },
    );
    if (!changed) throw new AppError('request.stale');
    // Nobody leaves a door open behind them: what they invited to, and what would hand over this membership, is withdrawn.
    if (isArchived || losesAdministration) await this.invitations.withdrawOf(id);
    await this.audit.record({ action: 'update', entity: 'membership', entityId: id, changes: { ...body }, before });
    await this.tell(before, { role, isArchived, isEndChanged });
    return this.get(id);
  }

  async listSessions(id: string, actor: Actor) {
    await this.find(id);
    const rows = await this.sessions.listOfMembership(actor.organisationId, id);
    return { items: rows.map(toListedSession) };
  }

  async endSession(id: string, sessionId: string, actor: Actor): Promise<void> {
    await this.find(id);
    if (!(await this.sessions.endOfMembership(actor.organisationId, id, sessionId))) throw notFound();
    await this.audit.record({ action: 'end-session', entity: 'membership', entityId: id, changes: { sessionId } });
  }

  private async find(id: string): Promise<MembershipRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  private async assertNotLastAdministrator(id: string): Promise<void> {
    const administrators = await this.repository.lockAdministrators();
    if (administrators.every((one) => one === id)) throw new AppError('membership.last_administrator');
  }

  private async tell(
    before: MembershipRow,
    { role, isArchived, isEndChanged }: { role: string; isArchived: boolean; isEndChanged: boolean },
  ): Promise<void> {
    const organisationName = await this.repository.organisationName();
    if (isEndChanged && isArchived) await this.notices.tell(before.userId, 'membership-ended', { organisationName });
    if (role !== before.role) await this.notices.tell(before.userId, 'membership-changed', { organisationName, role });
  }
}
