import { Injectable } from '@nestjs/common';
import type { Role } from '@repo/contracts';
import { Db, Gate } from '../../platform/db/index.js';

export interface UserRow {
  id: string;
  email: string;
  display_name: string;
  password_hash: string;
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
export interface SessionListRow {
  id: string;
  created_at: Date;
  last_seen_at: Date;
  expires_at: Date;
  user_agent: string;
}

const USER = 'id, email, display_name, password_hash, pressure_unit, theme, locale, version';

@Injectable()
export class UsersRepository {
  constructor(
    private readonly db: Db,
    private readonly gate: Gate,
  ) {}

  async findByEmail(email: string): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(
      `SELECT ${USER} FROM users WHERE lower(email) = lower($1) AND disabled_at IS NULL`,
      [email],
    );
    return rows[0] ?? null;
  }

  async find(userId: string): Promise<UserRow | null> {
    const rows = await this.gate.query<UserRow>(`SELECT ${USER} FROM users WHERE id = $1`, [userId]);
    return rows[0] ?? null;
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

  listMembershipsOf(userId: string): Promise<MembershipRow[]> {
    return this.gate.query<MembershipRow>(
      `SELECT m.id, m.role, m.organisation_id, o.name AS organisation_name, o.is_invented, m.customer_id
       FROM memberships m JOIN organisations o ON o.id = m.organisation_id
       WHERE m.user_id = $1 AND m.archived_at IS NULL ORDER BY m.created_at, m.id`,
      [userId],
    );
  }

  listSessions(userId: string): Promise<SessionListRow[]> {
    return this.gate.query<SessionListRow>(
      `SELECT id, created_at, last_seen_at, expires_at, user_agent FROM sessions
       WHERE user_id = $1 AND ended_at IS NULL AND expires_at > now() ORDER BY last_seen_at DESC, id LIMIT 100`,
      [userId],
    );
  }

  /** Failed attempts of the last quarter of an hour: for this pair of e-mail and address, and for the address alone. */
  async countFailures(emailHash: Buffer, addressHash: Buffer): Promise<{ pair: number; address: number }> {
    const [row] = await this.gate.query<{ pair: number; address: number }>(
      `SELECT (SELECT count(*)::int FROM sign_in_attempts
                WHERE email_hash = $1 AND address_hash = $2 AND attempted_at > now() - interval '15 minutes' AND NOT succeeded) AS pair,
              (SELECT count(*)::int FROM sign_in_attempts
                WHERE address_hash = $2 AND attempted_at > now() - interval '15 minutes' AND NOT succeeded) AS address`,
      [emailHash, addressHash],
    );
    return row ?? { pair: 0, address: 0 };
  }

  async recordAttempt(id: string, emailHash: Buffer, addressHash: Buffer, succeeded: boolean): Promise<void> {
    await this.gate.query(
      'INSERT INTO sign_in_attempts (id, email_hash, address_hash, succeeded) VALUES ($1, $2, $3, $4)',
      [id, emailHash, addressHash, succeeded],
    );
    if (succeeded) {
      await this.gate.query(
        `DELETE FROM sign_in_attempts WHERE (email_hash = $1 AND address_hash = $2) OR attempted_at < now() - interval '1 day'`,
        [emailHash, addressHash],
      );
    }
  }

  /** The person with this e-mail, made if there is none. */
  async ensureUser(user: { id: string; email: string; displayName: string; passwordHash: string }): Promise<string> {
    const [made] = await this.gate.query<{ id: string }>(
      `INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)
       ON CONFLICT (lower(email)) DO NOTHING RETURNING id`,
      [user.id, user.email, user.displayName, user.passwordHash],
    );
    if (made !== undefined) return made.id;
    const found = await this.findByEmail(user.email);
    if (found === null) throw new Error('a person who is there cannot be read');
    return found.id;
  }

  insertMembership(data: { id: string; userId: string; customerId: string | null; role: string; displayName: string }) {
    return this.db.tx.membership.create({
      data: { organisationId: this.db.actor.organisationId, ...data },
      include: { customer: { select: { name: true } } },
    });
  }

  findMembership(id: string) {
    return this.db.tx.membership.findUnique({
      where: { organisationId_id: { organisationId: this.db.actor.organisationId, id } },
      include: { customer: { select: { name: true } } },
    });
  }

  listMemberships(after: readonly (string | number)[] | null, limit: number, staffOnly: boolean) {
    return this.db.tx.membership.findMany({
      where: {
        organisationId: this.db.actor.organisationId,
        ...(staffOnly ? { customerId: null, archivedAt: null } : {}),
        ...(after === null ? {} : { id: { gt: String(after[0]) } }),
      },
      include: { customer: { select: { name: true } } },
      orderBy: { id: 'asc' },
      take: limit + 1,
    });
  }

  async updateMembership(
    id: string,
    version: number,
    data: { displayName?: string; role?: string; archivedAt?: Date | null },
  ): Promise<boolean> {
    const { count } = await this.db.tx.membership.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }
}
