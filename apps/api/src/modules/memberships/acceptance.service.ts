import { Injectable } from '@nestjs/common';
import type { InputOf, OpenedInvitation, routes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { Audit } from '../../platform/audit/audit.js';
import type { Actor, SignedIn } from '../../platform/auth/actor.js';
import type { Origin } from '../../platform/auth/by.decorators.js';
import { Sessions } from '../../platform/auth/sessions.js';
import { AppError, invalidField } from '../../platform/errors/app-error.js';
import {
  AccountService,
  Credentials,
  Notices,
  SignInService,
  UsersRepository,
  type SignInResult,
  type UserRow,
} from '../users/index.js';
import { InvitationsRepository, type OpenInvitation } from './invitations.repository.js';
import { MembershipsRepository } from './memberships.repository.js';

type As = InputOf<(typeof routes.invitations)['accept']>['body']['as'];

/**
 * Takes a membership on. The link counts, never the address; what it needs beside is the account's own proof of who they are, so
 * that no administrator can put somebody else's account, or one that they know the password of, into an organisation.
 */
@Injectable()
export class AcceptanceService {
  constructor(
    private readonly repository: InvitationsRepository,
    private readonly memberships: MembershipsRepository,
    private readonly users: UsersRepository,
    private readonly accounts: AccountService,
    private readonly credentials: Credentials,
    private readonly signIns: SignInService,
    private readonly sessions: Sessions,
    private readonly notices: Notices,
    private readonly audit: Audit,
  ) {}

  async read(token: string): Promise<OpenedInvitation> {
    const invitation = await this.find(token);
    return {
      organisationName: invitation.organisation_name,
      customerName: await this.findCustomerName(invitation),
      displayName: invitation.display_name,
      email: invitation.email,
      role: invitation.role,
      expiresAt: invitation.expires_at.toISOString(),
      providerName: invitation.provider_name,
    };
  }

  async accept(token: string, as: As, origin: Origin, requestId: string): Promise<SignInResult> {
    const invitation = await this.find(token);
    if (as.account === 'existing') {
      const { user, hasSecondFactor } = await this.credentials.verify(as, origin);
      const { membershipId } = await this.take(invitation, () => Promise.resolve(user), requestId);
      const signIn = { method: 'password', hasSecondFactor, membershipId, isPasswordChecked: true } as const;
      return this.signIns.begin({ user, ...signIn }, origin);
    }
    const { email, displayName } = as;
    await this.assertRoom(email, invitation);
    const passwordHash = await this.accounts.hashNew(as.newPassword, email);
    const makeUser = () => this.users.insert({ id: uuidv7(), email, displayName, passwordHash });
    const { user, membershipId } = await this.take(invitation, makeUser, requestId);
    return this.signIns.begin({ user, method: 'password', hasSecondFactor: false, membershipId }, origin);
  }

  /** As the person who is signed in; the session goes on under the new membership. */
  async acceptAsMe(token: string, actor: SignedIn, origin: Origin, requestId: string): Promise<SignInResult> {
    const invitation = await this.find(token);
    const user = await this.users.find(actor.userId);
    if (user === null) throw new AppError('session.needed');
    const { membershipId } = await this.take(invitation, () => Promise.resolve(user), requestId);
    return this.signIns.switchMembership(actor, membershipId, origin);
  }

  /** By the organisation's own sign-in: an account without a password, which nothing but that sign-in opens. */
  async acceptFromProvider(
    organisationId: string,
    invitationId: string,
    email: string | null,
    requestId: string,
  ): Promise<{ user: UserRow; membershipId: string }> {
    const invitation = await this.repository.findOpen(organisationId, invitationId);
    if (invitation === null) throw new AppError('link.ended');
    const account = { email: email ?? invitation.email, displayName: invitation.display_name, passwordHash: null };
    return this.take(invitation, () => this.users.insert({ id: uuidv7(), ...account }), requestId);
  }

  /** The open invitation of a link. @throws AppError link.ended */
  async find(token: string): Promise<OpenInvitation> {
    const invitation = await this.repository.findByToken(token);
    if (invitation === null) throw new AppError('link.ended');
    return invitation;
  }

  /**
   * Of accounts that share an address without having proved it, sign-in tries a few, the oldest first: one more would never be found.
   * Told here, so that nobody who made those accounts before keeps its person out unseen.
   */
  private async assertRoom(email: string, { is_mailed, email: invited }: OpenInvitation): Promise<void> {
    const proves = is_mailed && email.toLowerCase() === invited.toLowerCase();
    if (proves || (await this.users.hasRoomFor(email))) return;
    throw invalidField('as.email', email, 'another address, or this one by the link that was sent to it', 'crowded');
  }

  /** The link that came by message, accepted by the account of that address: whoever did so reads that mailbox. */
  private async proveAddress(invitation: OpenInvitation, user: UserRow): Promise<void> {
    if (!invitation.is_mailed || user.email_proven_at !== null) return;
    if (user.email.toLowerCase() !== invitation.email.toLowerCase()) return;
    await this.users.proveAddress(user.id, user.email);
  }

  /** Uses the invitation up and gives the membership, in one transaction. The account is made once the invitation is claimed. */
  private async take(
    invitation: OpenInvitation,
    toUser: () => Promise<UserRow>,
    requestId: string,
  ): Promise<{ user: UserRow; membershipId: string }> {
    const newId = uuidv7();
    const actor = this.actorOf(invitation, newId);
    const taken = await this.repository.accepting(actor, requestId, async () => {
      // Claimed first: whoever comes second waits here and is then too late, before an account is made for nothing.
      if (!(await this.repository.claim(invitation.id))) throw new AppError('link.ended');
      const user = await toUser();
      const given = await this.give(invitation, user, newId);
      await this.repository.noteMembership(invitation.id, given.membershipId);
      await this.audit.record({
        action: 'accept',
        entity: 'membership',
        entityId: given.membershipId,
        customerId: invitation.customer_id,
        changes: { invitationId: invitation.id, role: invitation.role, displayName: user.display_name },
      });
      return { ...given, user };
    });
    const details = { organisationName: invitation.organisation_name };
    await this.notices.tell(taken.user.id, 'membership-accepted', details);
    if (taken.previousUserId !== null) {
      await this.notices.tell(taken.previousUserId, 'membership-handed-over', details);
    }
    await this.proveAddress(invitation, taken.user);
    return taken;
  }

  private async give(
    invitation: OpenInvitation,
    user: UserRow,
    newId: string,
  ): Promise<{ membershipId: string; previousUserId: string | null }> {
    const { role, customer_id: customerId } = invitation;
    const to = { userId: user.id, role, customerId };
    const ownMemberships = await this.memberships.findOfUser(user.id);
    if (invitation.membership_id === null) {
      if (ownMemberships === null) {
        await this.memberships.insert({ id: newId, ...to, displayName: invitation.display_name });
        return { membershipId: newId, previousUserId: null };
      }
      if (ownMemberships.archivedAt === null && ownMemberships.acceptedAt !== null)
        throw new AppError('membership.exists');
      await this.memberships.give(ownMemberships.id, { ...to, displayName: invitation.display_name });
      return { membershipId: ownMemberships.id, previousUserId: null };
    }
    const handedOver = await this.memberships.find(invitation.membership_id);
    if (handedOver === null || handedOver.archivedAt !== null) throw new AppError('link.ended');
    if (ownMemberships !== null && ownMemberships.id !== handedOver.id) throw new AppError('membership.exists');
    // What they may do is what the membership says today, not what it said when the link was made.
    await this.memberships.give(handedOver.id, {
      userId: user.id,
      role: handedOver.role,
      customerId: handedOver.customerId,
      displayName: handedOver.displayName,
    });
    const previousUserId = handedOver.userId === user.id ? null : handedOver.userId;
    return { membershipId: handedOver.id, previousUserId };
  }

  private async findCustomerName(invitation: OpenInvitation): Promise<string | null> {
    if (invitation.customer_id === null) return null;
    const actor = this.actorOf(invitation, invitation.id);
    const row = await this.repository.accepting(actor, '', () => this.repository.find(invitation.id));
    return row?.customer?.name ?? null;
  }

  private actorOf(invitation: OpenInvitation, membershipId: string): Actor {
    return {
      sessionId: invitation.id,
      userId: invitation.id,
      membershipId: invitation.membership_id ?? membershipId,
      organisationId: invitation.organisation_id,
      customerId: null,
      role: invitation.role,
      displayName: invitation.display_name,
    };
  }
}
