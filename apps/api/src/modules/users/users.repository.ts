import { Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import { Gate } from '../../platform/db/index.js';

export interface UserRow {
  id: string;
  email: string;
  email_proven_at: Date | null;
  display_name: string;
  password_hash: string | null;
  pressure_unit: string;
  theme: string;
  locale: string;
  version: number;
}
export interface MembershipRow {
  id: string;
  role: Role;
  organisation_id: string;
  organisation_name: string;
  is_invented: boolean;
  customer_id: string | null;
}

const USER = 'id, email, email_proven_at, display_name, password_hash, pressure_unit, theme, locale, version';
/** Accounts that one address may stand for: more are not tried, so that nobody can make a sign-in slow by making accounts. */
const ACCOUNTS_AN_ADDRESS = 5;

@Injectable()
export class UsersRepository {
  constructor(private readonly gate: Gate) {}

  /** Accounts of this address: the one that proved it first, then the others, the oldest first. */
  listByEmail(email: string): Promise<UserRow[]> {
    return this.gate.query<UserRow>(
      `SELECT ${USER} FROM users WHERE lower(email) = lower($1) AND disabled_at IS NULL
       ORDER BY email_proven_at IS NULL, created_at, id LIMIT $2`,
      [email, ACCOUNTS_AN_ADDRESS],
    );
  }

  /** Whether an account more of this address, not proven, would still be tried. */
  async hasRoomFor(email: string): Promise<boolean> {
    return (await this.listByEmail(email)).length < ACCOUNTS_AN_ADDRESS;
  }

  async findProven(email: string): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(
      `SELECT ${USER} FROM users WHERE lower(email) = lower($1) AND email_proven_at IS NOT NULL AND disabled_at IS NULL`,
      [email],
    );
    return rows[0] ?? null;
  }

  async find(userId: string): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(`SELECT ${USER} FROM users WHERE id = $1 AND disabled_at IS NULL`, [
      userId,
    ]);
    return rows[0] ?? null;
  }

  async insert(user: {
    id: string;
    email: string;
    displayName: string;
    /** null for people who come by their organisation's own sign-in */
    passwordHash: string | null;
  }): Promise<UserRow> {
    const [row] = await this.gate.query<UserRow>(
      `INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4) RETURNING ${USER}`,
      [user.id, user.email, user.displayName, user.passwordHash],
    );
    if (row === undefined) throw new Error('an account that was made cannot be read');
    return row;
  }

  /** The changed person; null when the version was another one. */
  async update(
    userId: string,
    version: number,
    change: { displayName?: string | undefined; pressureUnit?: string | undefined; theme?: string | undefined },
  ): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(
      `UPDATE users SET display_name = coalesce($3, display_name), pressure_unit = coalesce($4, pressure_unit),
                        theme = coalesce($5, theme), version = version + 1
       WHERE id = $1 AND version = $2 RETURNING ${USER}`,
      [userId, version, change.displayName ?? null, change.pressureUnit ?? null, change.theme ?? null],
    );
    return rows[0] ?? null;
  }

  /** false when it was no longer `before`; with null whatever it was. */
  async setPassword(userId: string, hash: string, before: string | null): Promise<boolean> {
    const rows = await this.gate.query(
      `UPDATE users SET password_hash = $2, password_changed_at = now()
       WHERE id = $1 AND ($3::text IS NULL OR password_hash = $3) RETURNING id`,
      [userId, hash, before],
    );
    return rows.length > 0;
  }

  /** The account now has this address, proven; false when another account has proved it. */
  async proveAddress(userId: string, email: string): Promise<boolean> {
    const rows = await this.gate.query(
      `UPDATE users SET email = $2, email_proven_at = now()
       WHERE id = $1 AND NOT EXISTS (SELECT 1 FROM users o WHERE lower(o.email) = lower($2) AND o.email_proven_at IS NOT NULL AND o.id <> $1)
       RETURNING id`,
      [userId, email],
    );
    return rows.length > 0;
  }

  listMembershipsOf(userId: string): Promise<MembershipRow[]> {
    return this.gate.query<MembershipRow>(
      `SELECT m.id, m.role, m.organisation_id, o.name AS organisation_name, o.is_invented, m.customer_id
       FROM memberships m JOIN organisations o ON o.id = m.organisation_id
       WHERE m.user_id = $1 AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL ORDER BY m.created_at, m.id`,
      [userId],
    );
  }

  /** Whether an organisation of theirs demands a second factor. */
  async isSecondFactorDemanded(userId: string): Promise<boolean> {
    const rows = await this.gate.query(
      `SELECT 1 FROM memberships m JOIN sign_in_policies p ON p.organisation_id = m.organisation_id AND p.demands_second_factor
       WHERE m.user_id = $1 AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL LIMIT 1`,
      [userId],
    );
    return rows.length > 0;
  }

  /** Whose membership it is, as long as it works. */
  async findOfMembership(organisationId: string, membershipId: string): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(
      `SELECT ${USER} FROM users WHERE disabled_at IS NULL AND id =
         (SELECT user_id FROM memberships WHERE organisation_id = $1 AND id = $2 AND archived_at IS NULL AND accepted_at IS NOT NULL)`,
      [organisationId, membershipId],
    );
    return rows[0] ?? null;
  }
}
