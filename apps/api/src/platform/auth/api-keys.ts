import { Injectable } from '@nestjs/common';
import type { Role, Route } from '@repo/contracts';
import { Gate } from '../db/gate.js';
import type { Actor } from './actor.js';
import { sha256 } from './sessions.js';

/** Begins every secret of a key, so that one that leaks is known for what it is. */
export const API_KEY_PREFIX = 'kedge_key_';

/** What a key was made for. */
export interface KeyScope {
  readonly areas: readonly string[];
  readonly mayWrite: boolean;
}

interface KeyRow {
  id: string;
  secret_id: string;
  organisation_id: string;
  membership_id: string;
  name: string;
  role: Role;
  areas: string[];
  may_write: boolean;
  is_worn: boolean;
}

/** The bearer token of an Authorization header; null where there is none. */
export function readBearer(header: string | undefined): string | null {
  return /^Bearer ([\x21-\x7e]{1,200})$/i.exec(header ?? '')?.[1] ?? null;
}

/**
 * Whether a key may call a route: one of its areas, reading unless it may write. Never what asks for a person's proof, and nothing
 * that goes on in the background, since a job runs with the rights of its person.
 */
export function mayKeyCall(route: Route, role: Role, { areas, mayWrite }: KeyScope): boolean {
  return (
    Array.isArray(route.access) &&
    route.access.includes(role) &&
    areas.includes(route.area) &&
    (route.method === 'GET' || mayWrite) &&
    route.recentProof !== true &&
    route.job !== true
  );
}

/** Who a program is. A key is good as long as whoever vouches for it administers the organisation. */
@Injectable()
export class ApiKeys {
  constructor(private readonly gate: Gate) {}

  async find(token: string): Promise<{ actor: Actor; scope: KeyScope } | null> {
    if (!token.startsWith(API_KEY_PREFIX)) return null;
    const [row] = await this.gate.query<KeyRow>(
      `SELECT k.id, s.id AS secret_id, k.organisation_id, m.id AS membership_id, k.name, k.role, k.areas, k.may_write,
              coalesce(s.last_used_at < now() - interval '1 minute', true) AS is_worn
       FROM api_key_secrets s
       JOIN api_keys k ON k.organisation_id = s.organisation_id AND k.id = s.api_key_id
       JOIN memberships m ON m.organisation_id = k.organisation_id AND m.id = k.created_by_membership_id
         AND m.role = 'administrator' AND m.archived_at IS NULL AND m.accepted_at IS NOT NULL
       JOIN users u ON u.id = m.user_id AND u.disabled_at IS NULL
       WHERE s.secret_hash = $1 AND (s.expires_at IS NULL OR s.expires_at > now())`,
      [sha256(token)],
    );
    if (row === undefined) return null;
    if (row.is_worn) {
      await this.gate.query('UPDATE api_key_secrets SET last_used_at = now() WHERE organisation_id = $1 AND id = $2', [
        row.organisation_id,
        row.secret_id,
      ]);
    }
    const actor: Actor = {
      sessionId: row.secret_id,
      // What it is by itself: kept answers belong to the key. What it does is laid to whoever vouches for it.
      userId: row.id,
      membershipId: row.membership_id,
      organisationId: row.organisation_id,
      customerId: null,
      role: row.role,
      displayName: `key ${row.name}`,
    };
    return { actor, scope: { areas: row.areas, mayWrite: row.may_write } };
  }
}
