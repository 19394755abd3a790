import { createHash, randomBytes } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { ENV, type Env } from '../../config/env.js';
import { Gate } from '../db/gate.js';
import type { Actor } from './actor.js';

interface SessionRow {
  session_id: string;
  user_id: string;
  membership_id: string;
  organisation_id: string;
  customer_id: string | null;
  role: Role;
  display_name: string;
  expires_at: Date;
  is_worn: boolean;
}

export const sha256 = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Server-side sessions. The browser holds 256 random bits; only their hash is kept. */
@Injectable()
export class Sessions {
  constructor(
    private readonly gate: Gate,
    @Inject(ENV) private readonly env: Env,
  ) {}

  async begin(of: { userId: string; membershipId: string; organisationId: string; userAgent: string }) {
    const token = randomBytes(32).toString('base64url');
    const expiresAt = new Date(Date.now() + this.env.SESSION_HOURS * 3_600_000);
    await this.gate.query(
      `INSERT INTO sessions (id, token_hash, user_id, organisation_id, membership_id, expires_at, user_agent)
       VALUES ($1, $2, $3, $4, $5, $6, $7)`,
      [uuidv7(), sha256(token), of.userId, of.organisationId, of.membershipId, expiresAt, of.userAgent.slice(0, 300)],
    );
    return { token, expiresAt };
  }

  /** The actor of a token; null when the session has ended, or the person, or what they may do. */
  async find(token: string): Promise<(Actor & { expiresAt: Date }) | null> {
    const [row] = await this.gate.query<SessionRow>(
      `SELECT s.id AS session_id, s.user_id, s.membership_id, s.organisation_id, m.customer_id, m.role, m.display_name,
              s.expires_at, s.last_seen_at < now() - interval '1 minute' AS is_worn
       FROM sessions s
       JOIN users u ON u.id = s.user_id AND u.disabled_at IS NULL
       JOIN memberships m ON m.organisation_id = s.organisation_id AND m.id = s.membership_id AND m.archived_at IS NULL
       WHERE s.token_hash = $1 AND s.ended_at IS NULL AND s.expires_at > now()`,
      [sha256(token)],
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
    };
  }

  /** Ends a session of this person; false when there is none. */
  async end(userId: string, sessionId: string): Promise<boolean> {
    const ended = await this.gate.query<{ id: string }>(
      'UPDATE sessions SET ended_at = now() WHERE id = $1 AND user_id = $2 AND ended_at IS NULL RETURNING id',
      [sessionId, userId],
    );
    return ended.length > 0;
  }
}
