import { Injectable } from '@nestjs/common';
import type { Actor } from '../../platform/auth/actor.js';
import { Db, Gate } from '../../platform/db/index.js';

export type Purpose = 'sign-in' | 'join' | 'accept' | 'prove';

export interface LiveProvider {
  id: string;
  organisation_id: string;
  name: string;
  issuer: string;
  client_id: string;
  client_secret_sealed: Buffer;
}

export interface LeftSignIn {
  organisation_id: string;
  id: string;
  identity_provider_id: string;
  nonce: string;
  code_verifier_sealed: Buffer;
  purpose: Purpose;
  membership_id: string | null;
  invitation_id: string | null;
  session_id: string | null;
}

const MINUTES = 10;

@Injectable()
export class ProviderSignInsRepository {
  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  /** The live provider of an organisation; null without one. */
  async findLive(organisationId: string): Promise<LiveProvider | null> {
    const [row] = await this.gate.query<LiveProvider>(
      `SELECT id, organisation_id, name, issuer, client_id, client_secret_sealed FROM identity_providers
       WHERE organisation_id = $1 AND archived_at IS NULL`,
      [organisationId],
    );
    return row ?? null;
  }

  async insert(signIn: {
    organisationId: string;
    id: string;
    identityProviderId: string;
    stateHash: Buffer;
    nonce: string;
    codeVerifierSealed: Buffer;
    purpose: Purpose;
    membershipId: string | null;
    invitationId: string | null;
    sessionId: string | null;
  }): Promise<void> {
    await this.gate.query(
      `WITH old AS (DELETE FROM provider_sign_ins WHERE expires_at < now())
       INSERT INTO provider_sign_ins (organisation_id, id, identity_provider_id, state_hash, nonce, code_verifier_sealed, purpose,
                                      membership_id, invitation_id, session_id, expires_at)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, now() + make_interval(mins => $11))`,
      [
        signIn.organisationId,
        signIn.id,
        signIn.identityProviderId,
        signIn.stateHash,
        signIn.nonce,
        signIn.codeVerifierSealed,
        signIn.purpose,
        signIn.membershipId,
        signIn.invitationId,
        signIn.sessionId,
        MINUTES,
      ],
    );
  }

  /** What has left, used up by this call; null when it is not good, or not this browser's. */
  async take(organisationId: string, id: string, stateHash: Buffer): Promise<LeftSignIn | null> {
    const [row] = await this.gate.query<LeftSignIn>(
      `DELETE FROM provider_sign_ins WHERE organisation_id = $1 AND id = $2 AND state_hash = $3 AND expires_at > now()
       RETURNING organisation_id, id, identity_provider_id, nonce, code_verifier_sealed, purpose, membership_id, invitation_id, session_id`,
      [organisationId, id, stateHash],
    );
    return row ?? null;
  }

  /** Whose membership a subject of a provider is. */
  async findMembership(
    organisationId: string,
    providerId: string,
    subject: string,
  ): Promise<{ membership_id: string; user_id: string } | null> {
    const [row] = await this.gate.query<{ membership_id: string; user_id: string }>(
      `SELECT m.id AS membership_id, m.user_id FROM provider_identities i
       JOIN memberships m ON m.organisation_id = i.organisation_id AND m.id = i.membership_id
       WHERE i.organisation_id = $1 AND i.identity_provider_id = $2 AND i.subject = $3
         AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL`,
      [organisationId, providerId, subject],
    );
    return row ?? null;
  }

  /** Joins a membership to a subject; false when the subject is somebody else's. */
  async join(actor: Actor, identity: { id: string; providerId: string; subject: string }): Promise<boolean> {
    return this.db.requestAs('acceptance', actor, '', async () => {
      const { organisationId, membershipId } = actor;
      const count = await this.db.tx.$executeRaw`
        INSERT INTO provider_identities (organisation_id, id, identity_provider_id, subject, membership_id)
        VALUES (${organisationId}::uuid, ${identity.id}::uuid, ${identity.providerId}::uuid, ${identity.subject}, ${membershipId}::uuid)
        ON CONFLICT (organisation_id, identity_provider_id, subject) DO NOTHING`;
      return count === 1;
    });
  }

  /** Sessions that an organisation's provider opened are over. */
  async endSessions(organisationId: string): Promise<void> {
    await this.gate.query(
      `UPDATE sessions SET ended_at = now() WHERE organisation_id = $1 AND method = 'provider' AND ended_at IS NULL`,
      [organisationId],
    );
  }
}
