import { Injectable } from '@nestjs/common';
import {
  roleSchema,
  type CreatedInvitation,
  type InputOf,
  type Invitation,
  type Role,
  type routes,
} from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor } from '../../platform/auth/actor.js';
import { makeToken, sha256 } from '../../platform/auth/sessions.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { Mail } from '../../platform/mail/mail.js';
import { InvitationsRepository, type InvitationRow } from './invitations.repository.js';
import { MembershipsRepository } from './memberships.repository.js';

type Invitations = typeof routes.invitations;

const GOOD_FOR_DAYS = 7;
/** Messages of an organisation to strangers in a day. */
const A_DAY = 200;

const stateOf = (row: InvitationRow): Invitation['state'] => {
  if (row.acceptedAt !== null) return 'accepted';
  if (row.withdrawnAt !== null) return 'withdrawn';
  return row.expiresAt <= new Date() ? 'expired' : 'open';
};

const toInvitation = (row: InvitationRow): Invitation => ({
  id: row.id,
  email: row.email,
  displayName: row.displayName,
  role: roleSchema.parse(row.role),
  customerId: row.customerId,
  customerName: row.customer?.name ?? null,
  membershipId: row.membershipId,
  createdByName: row.createdByName,
  createdAt: row.createdAt.toISOString(),
  expiresAt: row.expiresAt.toISOString(),
  state: stateOf(row),
  version: row.version,
});

const hashOf = (token: string) => new Uint8Array(sha256(token));

/** Makes links by which people come in. Whether an address has an account is never looked up here. */
@Injectable()
export class InvitationsService {
  constructor(
    private readonly repository: InvitationsRepository,
    private readonly memberships: MembershipsRepository,
    private readonly mail: Mail,
    private readonly cursors: Cursors,
    private readonly audit: Audit,
  ) {}

  async list(query: InputOf<Invitations['list']>['query']) {
    const before = this.cursors.read('invitations', query.cursor, 1);
    const rows = await this.repository.list(before, query.limit);
    const page = this.cursors.page('invitations', rows, query.limit, (row) => [row.id]);
    return { items: page.rows.map(toInvitation), nextCursor: page.nextCursor };
  }

  create(body: InputOf<Invitations['create']>['body'], actor: Actor): Promise<CreatedInvitation> {
    return this.make({ ...body, membershipId: null }, actor);
  }

  /** A link that gives an existing membership to whoever accepts it: for those who can no longer get into their account. */
  async handOver(membershipId: string, body: { id: string; email: string }, actor: Actor): Promise<CreatedInvitation> {
    const membership = await this.memberships.find(membershipId);
    if (membership === null) throw notFound();
    if (membership.archivedAt !== null) {
      throw new AppError('request.conflict', { detail: 'The membership has ended: bring it back first.' });
    }
    const { role, customerId, displayName } = membership;
    return this.make({ ...body, membershipId, role: role as Role, customerId, displayName }, actor);
  }

  async renew(id: string, actor: Actor): Promise<CreatedInvitation> {
    const links = this.makeLinks();
    await this.find(id);
    if (!(await this.repository.renew(id, links.stored))) throw new AppError('link.ended');
    const row = await this.find(id);
    await this.audit.record({ action: 'renew', entity: 'invitation', entityId: id, changes: { email: row.email } });
    return this.toCreated(row, links, actor);
  }

  async withdraw(id: string): Promise<void> {
    const { email } = await this.find(id);
    if (!(await this.repository.withdraw(id))) throw new AppError('link.ended');
    await this.audit.record({ action: 'withdraw', entity: 'invitation', entityId: id, changes: { email } });
  }

  private async make(
    invitation: {
      id: string;
      membershipId: string | null;
      email: string;
      displayName: string;
      role: Role;
      customerId: string | null;
    },
    actor: Actor,
  ): Promise<CreatedInvitation> {
    if ((await this.repository.countSince(new Date(Date.now() - 86_400_000))) >= A_DAY) {
      throw new AppError('request.too_many', {
        detail: `${A_DAY} people were invited within a day.`,
        retryAfterS: 3600,
      });
    }
    const links = this.makeLinks();
    await this.repository.insert({ ...invitation, ...links.stored });
    const { id, email, role, customerId, membershipId } = invitation;
    await this.audit.record({
      action: 'create',
      entity: 'invitation',
      entityId: id,
      customerId,
      changes: { email, role, customerId, ...(membershipId === null ? {} : { membershipId }) },
    });
    return this.toCreated(await this.find(id), links, actor);
  }

  /** Two links: the one that is shown, and the one that is sent, whose opening proves the address. */
  private makeLinks() {
    const [token, mailedToken] = [makeToken(), this.mail.canSend ? makeToken() : null];
    return {
      token,
      mailedToken,
      stored: {
        tokenHash: hashOf(token),
        mailedTokenHash: mailedToken === null ? null : hashOf(mailedToken),
        expiresAt: new Date(Date.now() + GOOD_FOR_DAYS * 86_400_000),
      },
    };
  }

  private async toCreated(
    row: InvitationRow,
    { token, mailedToken }: { token: string; mailedToken: string | null },
    actor: Actor,
  ): Promise<CreatedInvitation> {
    const organisationName = await this.memberships.organisationName();
    const mailed =
      mailedToken !== null &&
      this.mail.send(row.email, {
        kind: 'invitation',
        organisationName,
        invitedBy: actor.displayName,
        displayName: row.displayName,
        role: roleSchema.parse(row.role),
        token: mailedToken,
      });
    return { ...toInvitation(row), token, mailed };
  }

  private async find(id: string): Promise<InvitationRow> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }
}
