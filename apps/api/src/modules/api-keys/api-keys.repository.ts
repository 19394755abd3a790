import { Injectable } from '@nestjs/common';
import { Db, Prisma } from '../../platform/db/index.js';

export interface ApiKeyRow {
  id: string;
  name: string;
  role: string;
  areas: string[];
  may_write: boolean;
  created_by_name: string;
  created_at: Date;
  archived_at: Date | null;
  version: number;
  is_vouched_for: boolean;
  secrets: { id: string; created_at: string; expires_at: string | null; last_used_at: string | null }[];
}

@Injectable()
export class ApiKeysRepository {
  constructor(private readonly db: Db) {}

  async find(id: string): Promise<ApiKeyRow | null> {
    const [row] = await this.read(Prisma.sql`k.id = ${id}::uuid`, 1);
    return row ?? null;
  }

  /** By name, one more than a page. */
  list(after: readonly (string | number)[] | null, limit: number, archived: boolean): Promise<ApiKeyRow[]> {
    const isArchived = archived ? Prisma.sql`k.archived_at IS NOT NULL` : Prisma.sql`k.archived_at IS NULL`;
    const beyond = after === null ? Prisma.empty : Prisma.sql`AND k.name > ${String(after[0])}`;
    return this.read(Prisma.sql`${isArchived} ${beyond}`, limit + 1);
  }

  private read(which: Prisma.Sql, limit: number): Promise<ApiKeyRow[]> {
    return this.db.tx.$queryRaw<ApiKeyRow[]>`
      SELECT k.id, k.name, k.role, k.areas, k.may_write, k.created_by_name, k.created_at, k.archived_at, k.version,
             EXISTS (SELECT 1 FROM memberships m WHERE m.organisation_id = k.organisation_id AND m.id = k.created_by_membership_id
                       AND m.role = 'administrator' AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL) AS is_vouched_for,
             coalesce((SELECT json_agg(json_build_object('id', s.id, 'created_at', s.created_at, 'expires_at', s.expires_at,
                                                         'last_used_at', s.last_used_at) ORDER BY s.created_at DESC)
                       FROM api_key_secrets s WHERE s.organisation_id = k.organisation_id AND s.api_key_id = k.id
                         AND (s.expires_at IS NULL OR s.expires_at > now())), '[]'::json) AS secrets
      FROM api_keys k WHERE k.organisation_id = ${this.db.actor.organisationId}::uuid AND ${which}
      ORDER BY k.name LIMIT ${limit}`;
  }

  async insert(key: { id: string; name: string; role: string; areas: string[]; mayWrite: boolean }): Promise<void> {
    const { organisationId, membershipId, displayName } = this.db.actor;
    await this.db.tx.apiKey.create({
      data: { organisationId, ...key, createdByMembershipId: membershipId, createdByName: displayName },
    });
  }

  async update(
    id: string,
    version: number,
    data: { name?: string; areas?: string[]; mayWrite?: boolean; archivedAt?: Date | null },
  ): Promise<boolean> {
    const { count } = await this.db.tx.apiKey.updateMany({
      where: { organisationId: this.db.actor.organisationId, id, version },
      data: { ...data, version: { increment: 1 } },
    });
    return count === 1;
  }

  /** Whoever asks now vouches for the key. */
  async vouch(id: string): Promise<void> {
    const { organisationId, membershipId, displayName } = this.db.actor;
    await this.db.tx.apiKey.updateMany({
      where: { organisationId, id },
      data: { createdByMembershipId: membershipId, createdByName: displayName, version: { increment: 1 } },
    });
  }

  async insertSecret(id: string, apiKeyId: string, secretHash: Uint8Array<ArrayBuffer>): Promise<void> {
    const { organisationId } = this.db.actor;
    await this.db.tx.apiKeySecret.create({ data: { organisationId, id, apiKeyId, secretHash } });
  }

  /** The newest goes on until `until`, the others end now: with the one that comes, two are live at the most. */
  async endSecrets(apiKeyId: string, overlapHours: number): Promise<void> {
    const { organisationId } = this.db.actor;
    await this.db.tx.$executeRaw`
      UPDATE api_key_secrets s
      SET expires_at = least(s.expires_at, CASE WHEN s.id = newest.id THEN now() + make_interval(secs => ${overlapHours * 3600}) ELSE now() END)
      FROM (SELECT id FROM api_key_secrets WHERE organisation_id = ${organisationId}::uuid AND api_key_id = ${apiKeyId}::uuid
            ORDER BY created_at DESC, id DESC LIMIT 1) newest
      WHERE s.organisation_id = ${organisationId}::uuid AND s.api_key_id = ${apiKeyId}::uuid
        AND (s.expires_at IS NULL OR s.expires_at > now())`;
  }
}
