import { Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import { Db, Gate } from '../../platform/db/index.js';
import type { Actor } from '../../platform/auth/actor.js';
import { sha256 } from '../../platform/auth/sessions.js';

const WITH_CUSTOMER = { customer: { select: { name: true } } } as const;

export type InvitationRow = NonNullable<Awaited<ReturnType<InvitationsRepository['find']>>>;

/** What a link stands for, as whoever opens it may know. */
export interface OpenInvitation {
  id: string;
  organisation_id: string;
  organisation_name: string;
  membership_id: string | null;
  email: string;
  display_name: string;
  role: Role;
  customer_id: string | null;
  expires_at: Date;
  is_mailed: boolean;
  /** the organisation's own sign-in */
  provider_name: string | null;
}

/** Invitations that can be accepted; $1 is the hash of the link that was opened, if one was. */
const OPEN = `
  SELECT i.id, i.organisation_id, o.name AS organisation_name, i.membership_id, i.email, i.display_name, i.role, i.customer_id,
         i.expires_at, coalesce(i.mailed_token_hash = $1::bytea, false) AS is_mailed, p.name AS provider_name
  FROM invitations i JOIN organisations o ON o.id = i.organisation_id
  LEFT JOIN identity_providers p ON p.organisation_id = i.organisation_id AND p.archived_at IS NULL
  WHERE i.accepted_at IS NULL AND i.withdrawn_at IS NULL AND i.expires_at > now()`;

@Injectable()
export class InvitationsRepository {
  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  /** Runs an acceptance: in the name of `actor`, with the right to make and to give a membership, and hardly another. */
  accepting<T>(actor: Actor, requestId: string, work: () => Promise<T>): Promise<T> {
    return this.db.requestAs('acceptance', actor, requestId, work);
  }

  /** The open invitation of a link; null when there is none, or no longer. */
  async findByToken(token: string): Promise<OpenInvitation | null> {
    const [row] = await this.gate.query<OpenInvitation>(`${OPEN} AND (i.token_hash = $1 OR i.mailed_token_hash = $1)`, [
      sha256(token),
    ]);
    return row ?? null;
  }

  async findOpen(organisationId: string, id: string): Promise<OpenInvitation | null> {
    const [row] = await this.gate.query<OpenInvitation>(`${OPEN} AND i.organisation_id = $2 AND i.id = $3`, [
      null,
      organisationId,
      id,
    ]);
    return row ?? null;
  }

  find(id: string) {
    return this.db.tx.invitation.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
      include: WITH_CUSTOMER,
    });
  }

  list(before: readonly (string | number)[] | null, limit: number) {
    return this.db.tx.invitation.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        ...(before === null ? {} : { id: { lt: String(before[0]) } }),
      },
      include: WITH_CUSTOMER,
      orderBy: { id: 'desc' },
      take: limit + 1,
    });
  }

  countSince(since: Date): Promise<number> {
    return this.db.tx.invitation.count({
      where: { organisationId: this.db.actor.organisationId, createdAt: { gt: since } },
    });
  }

  async insert(invitation: {
    id: string;
    membershipId: string | null;
    email: string;
    displayName: string;
    role: string;
    customerId: string | null;
    tokenHash: Uint8Array<ArrayBuffer>;
    mailedTokenHash: Uint8Array<ArrayBuffer> | null;
    expiresAt: Date;
  }): Promise<void> {
    const { organisationId, membershipId, displayName } = this.db.actor;
    await this.db.tx.invitation.create({
      data: { organisationId, ...invitation, createdByMembershipId: membershipId, createdByName: displayName },
    });
  }

  /** New links for an invitation that nobody has accepted; false when it is not open to that. */
  async renew(
    id: string,
    links: {
      tokenHash: Uint8Array<ArrayBuffer>;
      mailedTokenHash: Uint8Array<ArrayBuffer> | null;
      expiresAt: Date;
    },
  ): Promise<boolean> {
    const { organisationId, membershipId, displayName } = this.db.actor;
    const { count } = await this.db.tx.invitation.updateMany({
      where: { organisationId, id, acceptedAt: null, withdrawnAt: null },
      data: {
        ...links,
        createdByMembershipId: membershipId,
        createdByName: displayName,
        version: { increment: 1 },
      },
    });
    return count === 1;
  }

  async withdraw(id: string): Promise<boolean> {
    const { count } = await this.db.tx.invitation.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, acceptedAt: null, withdrawnAt: null },
      data: { withdrawnAt: new Date(), version: { increment: 1 } },
    });
    return count === 1;
  }

  /** Withdraws what this member invited to, and what would hand over this membership. */
  async withdrawOf(membershipId: string): Promise<void> {
    await this.db.tx.invitation.updateMany({
      where: {
        organisationId: this.db.actor.organisationId,
        acceptedAt: null,
        withdrawnAt: null,
        OR: [{ createdByMembershipId: membershipId }, { membershipId }],
      },
      data: { withdrawnAt: new Date(), version: { increment: 1 } },
    });
  }

  /**
   * Uses an invitation up. Of two that accept it at once, one is too late; and it is too late when whoever invited administers the
   * organisation no longer.
   */
  async claim(id: string): Promise<boolean> {
    const { organisationId } = this.db.actor;
    const count = await this.db.tx.$executeRaw`
      UPDATE invitations i SET accepted_at = now(), version = version + 1
      WHERE i.organisation_id = ${organisationId}::uuid AND i.id = ${id}::uuid
        AND i.accepted_at IS NULL AND i.withdrawn_at IS NULL AND i.expires_at > now()
        AND EXISTS (SELECT 1 FROM memberships a WHERE a.organisation_id = i.organisation_id AND a.id = i.created_by_membership_id
                      AND a.role = 'administrator' AND a.archived_at IS NULL AND a.accepted_at IS NOT NULL)`;
    return count === 1;
  }

  /** Notes which membership came of it. */
  async noteMembership(id: string, membershipId: string): Promise<void> {
    await this.db.tx.invitation.updateMany({
      where: { organisationId: this.db.actor.organisationId, id },
      data: { membershipId },
    });
  }
}
