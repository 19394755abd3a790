import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';

export interface SealableEntry {
  organisationId: string;
  id: string;
  customerId: string | null;
  at: Date;
  actorMembershipId: string | null;
  actorName: string;
  action: string;
  entity: string;
  entityId: string;
  changes: unknown;
  requestId: string;
}

export const FIRST_HASH = Buffer.alloc(32);

/** SHA-256 of the hash before and the entry as canonical JSON (RFC 8785). */
export function sealOf(previousHash: Uint8Array, sequence: number, entry: SealableEntry): Buffer {
  const text = canonicalize({ ...entry, at: entry.at.toISOString(), sequence });
  if (text === undefined) throw new Error('an audit entry has no canonical form');
  return createHash('sha256').update(previousHash).update(text).digest();
}
