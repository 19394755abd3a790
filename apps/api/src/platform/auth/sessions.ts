import { createHash, randomBytes } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { ENV, type Env } from '../../config/env.js';
import { Gate } from '../db/gate.js';
import type { SessionMethod, SignedIn } from './actor.js';

interface SessionRow {
  session_id: string;
  user_id: string;
  membership_id: string;
  organisation_id: string;
  customer_id: string | null;
  role: Role;
  display_name: string;
  expires_at: Date;
  method: SessionMethod;
  has_second_factor: boolean;
  demands_second_factor: boolean;
  authenticated_at: Date;
  is_worn: boolean;
}

export interface NewSession {
  readonly userId: string;
  readonly membershipId: string;
  readonly organisationId: string;
  readonly method: SessionMethod;
  readonly hasSecondFactor: boolean;
  readonly userAgent: string;
  /** when the person proved who they are, where that was not just now */
  readonly authenticatedAt?: Date;
  /** when it ends at the latest, where it goes on from another */
  readonly expiresAt?: Date;
  /** the hash of the password that was checked; a session is not begun when it was changed meanwhile. Not for other methods. */
  readonly passwordHash?: string;
}

export interface ListedSession {
  id: string;
  created_at: Date;
  last_seen_at: Date;
  expires_at: Date;
  user_agent: string;
}

export const sha256 = (text: string): Buffer => createHash('sha256').update(text).digest();

/** 256 random bits, as they go into a cookie or a link. */
export const makeToken = (): string => randomBytes(32).toString('base64url');

/** A session that is neither over nor too long unused, of a membership that works. */
const LIVE = `
  s.ended_at IS NULL AND s.expires_at > now() AND s.last_seen_at > now() - make_interval(mins => $1)
  AND s.created_at >= m.sessions_valid_from AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL`;
const LIVE_FROM = `sessions s JOIN memberships m ON m.organisation_id = s.organisation_id AND m.id = s.membership_id AND m.user_id = s.user_id`;
const LISTED = 's.id, s.created_at, s.last_seen_at, s.expires_at, s.user_agent';

/** Server-side sessions. The browser holds 256 random bits; only their hash is kept. */
@Injectable()
export class Sessions {
  constructor(
    private readonly gate: Gate,
    @Inject(ENV) private readonly env: Env,
  ) {}

  /** null when the password that was checked is no longer the account's. */
  async begin(session: NewSession): Promise<{ token: string; expiresAt: Date } | null> {
    const token = makeToken();
    const expiresAt = session.expiresAt ?? new Date(Date.now() + this.env.SESSION_HOURS * 3_600_000);
    const rows = await this.gate.query(
      `INSERT INTO sessions (id, token_hash, user_id, organisation_id, membership_id, expires_at, user_agent, method, has_second_factor,
                             authenticated_at)
       SELECT $1, $2, u.id, $4, $5, $6, $7, $8, $9, coalesce($11::timestamptz, now()) FROM users u
       WHERE u.id = $3 AND u.disabled_at IS NULL AND ($10::text IS NULL OR u.password_hash = $10) RETURNING id`,
      [
        uuidv7(),
        sha256(token),
        session.userId,
        session.organisationId,
        session.membershipId,
        expiresAt,
        session.userAgent.slice(0, 300),
        session.method,
        session.hasSecondFactor,
        session.passwordHash ?? null,
        session.authenticatedAt ?? null,
      ],
    );
    return rows.length === 0 ? null : { token, expiresAt };
  }

  /** The actor of a token; null when the session has ended, or the person, or what they may do. */
  async find(token: string): Promise<SignedIn | null> {
    const [row] = await this.gate.query<SessionRow>(
      `SELECT s.id AS session_id, s.user_id, s.membership_id, s.organisation_id, m.customer_id, m.role, m.display_name,
              s.expires_at, s.method, s.has_second_factor, s.authenticated_at,
              coalesce(p.demands_second_factor, false) AS demands_second_factor,
              s.last_seen_at < now() - interval '1 minute' AS is_worn
       FROM ${LIVE_FROM}
       JOIN users u ON u.id = s.user_id AND u.disabled_at IS NULL
       LEFT JOIN sign_in_policies p ON p.organisation_id = s.organisation_id
       WHERE s.token_hash = $2 AND ${LIVE}`,
      [this.env.SESSION_IDLE_MINUTES, sha256(token)],
      'session of a token',
    );
    if (row === undefined) return null;
    if (row.is_worn) await this.gate.query('UPDATE sessions SET last_seen_at = now() WHERE id = $1', [row.session_id]);
    return {
      sessionId: row.session_id,
      userId: row.user_id,
      membershipId: row.membership_id,
      organisationId: row.organisation_id,
      customerId: row.customer_id,
      role: row.role,
      displayName: row.display_name,
      expiresAt: row.expires_at,
      method: row.method,
      hasSecondFactor: row.has_second_factor,
      secondFactorDemanded: row.demands_second_factor,
      authenticatedAt: row.authenticated_at,
    };
  }

  /** The person has proved again who they are. */
  async proveAgain(sessionId: string, { withSecondFactor }: { withSecondFactor: boolean }): Promise<void> {
    await this.gate.query(
      'UPDATE sessions SET authenticated_at = now(), has_second_factor = has_second_factor OR $2 WHERE id = $1',
      [sessionId, withSecondFactor],
    );
  }

  /**
   * An organisation's own sign-in says that it is the person: of a session that it opened, and of no other. One that the account opened
   * reaches beyond the organisation, to credentials and other memberships.
   */
  async proveByProvider(organisationId: string, sessionId: string): Promise<void> {
    await this.gate.query(
      `UPDATE sessions SET authenticated_at = now() WHERE id = $1 AND organisation_id = $2 AND method = 'provider'`,
      [sessionId, organisationId],
    );
  }

  listOfUser(userId: string): Promise<ListedSession[]> {
    return this.gate.query<ListedSession>(
      `SELECT ${LISTED} FROM ${LIVE_FROM} WHERE s.user_id = $2 AND ${LIVE} ORDER BY s.last_seen_at DESC, s.id LIMIT 100`,
      [this.env.SESSION_IDLE_MINUTES, userId],
    );
  }

  listOfMembership(organisationId: string, membershipId: string): Promise<ListedSession[]> {
    return this.gate.query<ListedSession>(
      `SELECT ${LISTED} FROM ${LIVE_FROM} WHERE s.organisation_id = $2 AND s.membership_id = $3 AND ${LIVE}
       ORDER BY s.last_seen_at DESC, s.id LIMIT 100`,
      [this.env.SESSION_IDLE_MINUTES, organisationId, membershipId],
    );
  }

  /** Ends a session of this person; false when there is none. */
  async end(userId: string, sessionId: string): Promise<boolean> {
    const ended = await this.gate.query(
      'UPDATE sessions SET ended_at = now() WHERE id = $1 AND user_id = $2 AND ended_at IS NULL RETURNING id',
      [sessionId, userId],
    );
    return ended.length > 0;
  }

  /** Ends a session of this membership; false when there is none. */
  async endOfMembership(organisationId: string, membershipId: string, sessionId: string): Promise<boolean> {
    const ended = await this.gate.query(
      `UPDATE sessions SET ended_at = now()
       WHERE id = $1 AND organisation_id = $2 AND membership_id = $3 AND ended_at IS NULL RETURNING id`,
      [sessionId, organisationId, membershipId],
    );
    return ended.length > 0;
  }

  /** Ends every session of this membership but one. */
  async endOthersOfMembership(organisationId: string, membershipId: string, keptSessionId: string): Promise<void> {
    await this.gate.query(
      `UPDATE sessions SET ended_at = now()
       WHERE organisation_id = $1 AND membership_id = $2 AND id <> $3 AND ended_at IS NULL`,
      [organisationId, membershipId, keptSessionId],
    );
  }

  /** Ends every session of this person but one, or all. */
  async endOthers(userId: string, keptSessionId: string | null): Promise<void> {
    await this.gate.query(
      'UPDATE sessions SET ended_at = now() WHERE user_id = $1 AND id IS DISTINCT FROM $2 AND ended_at IS NULL',
      [userId, keptSessionId],
    );
  }
}
