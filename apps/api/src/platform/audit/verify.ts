import type pg from 'pg';
import type { AuditHead } from './heads.js';
import { FIRST_HASH, sealOf, type SealableEntry } from './seal.js';

const AT_ONCE = 1_000;
/** The sealer follows within seconds; what is this much older than the last seal was never in its sight. */
const UNSEALED_FOR = '1 hour';

/** What the chain of one organisation says. */
export interface ChainReport {
  readonly organisationId: string;
  readonly sealed: number;
  /** entries that wait for the sealer */
  readonly waiting: number;
  /** the first place where it does not hold; null when all of it does */
  readonly broken: { readonly sequence: number; readonly entryId: string | null; readonly why: string } | null;
}

interface SealedRow {
  sequence: number;
  previousHash: Buffer;
  hash: Buffer;
  entry: SealableEntry;
  isThere: boolean;
}

const SEALED = `
  SELECT s.sequence, s.previous_hash AS "previousHash", s.hash, e.id IS NOT NULL AS "isThere",
         s.organisation_id AS "organisationId", s.audit_entry_id AS id, e.customer_id AS "customerId",
         date_trunc('milliseconds', e.at) AS at, e.actor_membership_id AS "actorMembershipId", e.actor_name AS "actorName",
         e.action, e.entity, e.entity_id AS "entityId", e.changes, e.request_id AS "requestId"
  FROM audit_seals s LEFT JOIN audit_entries e ON e.organisation_id = s.organisation_id AND e.id = s.audit_entry_id
  WHERE s.organisation_id = $1 AND s.sequence > $2 ORDER BY s.sequence LIMIT ${AT_ONCE}`;

/**
 * Computes every hash of every organisation's chain again and compares it with what is stored, and with heads that were exported
 * before: whoever can change rows can compute a new chain, but cannot change a file that has left the machine.
 * One organisation after the other, a thousand entries in memory. Needs a login that reads past row security.
 */
export async function* verifyChains(
  client: Pick<pg.Client, 'query'>,
  heads: readonly AuditHead[] = [],
): AsyncGenerator<ChainReport> {
  const { rows } = await client.query<{ id: string }>(
    'SELECT id FROM organisations UNION SELECT organisation_id FROM audit_entries ORDER BY 1',
  );
  const ids = new Set([...rows.map(({ id }) => id), ...heads.map(({ organisationId }) => organisationId)]);
  for (const id of ids) yield verifyChain(client, id, new Map(headsOf(heads, id)));
}

const headsOf = (heads: readonly AuditHead[], id: string): [number, AuditHead][] =>
  heads.filter(({ organisationId }) => organisationId === id).map((head) => [head.sequence, head]);

async function verifyChain(
  client: Pick<pg.Client, 'query'>,
  organisationId: string,
  heads: ReadonlyMap<number, AuditHead>,
): Promise<ChainReport> {
  let hash: Buffer = FIRST_HASH;
  let sequence = 0;
  const broken = (entryId: string | null, why: string): ChainReport => ({
    organisationId,
    sealed: sequence,
    waiting: 0,
    broken: { sequence: sequence + 1, entryId, why },
  });
  for (;;) {
    const { rows } = await client.query<SealedRow & SealableEntry>(SEALED, [organisationId, sequence]);
    for (const row of rows) {
      const why = findFault(row, sequence + 1, hash) ?? findOtherHead(heads.get(row.sequence), row.hash);
      if (why !== null) return broken(row.id, why);
      sequence = row.sequence;
      hash = row.hash;
    }
    if (rows.length < AT_ONCE) break;
  }
  const ahead = [...heads.values()].find((head) => head.sequence > sequence);
  if (ahead !== undefined) {
    return broken(null, `it ends here, and stood at ${ahead.sequence} on ${ahead.date}: what followed was taken away`);
  }
  const { waiting, forgotten } = await readUnsealed(client, organisationId);
  if (forgotten !== null) return broken(forgotten, 'it was never sealed: it came in behind the sealer');
  return { organisationId, sealed: sequence, waiting, broken: null };
}

function findFault(row: SealedRow & SealableEntry, expected: number, previous: Buffer): string | null {
  if (row.sequence !== expected) return `number ${expected} is missing; ${row.sequence} follows`;
  if (!row.isThere) return 'its entry is gone';
  if (!previous.equals(row.previousHash)) return 'it does not follow the one before';
  const { organisationId, id, customerId, at, actorMembershipId, actorName } = row;
  const { action, entity, entityId, changes, requestId } = row;
  const entry = { organisationId, id, customerId, at, actorMembershipId, actorName, action, entity, entityId };
  const computed = sealOf(previous, row.sequence, { ...entry, changes, requestId });
  return computed.equals(row.hash) ? null : 'it is not what was sealed';
}

function findOtherHead(head: AuditHead | undefined, hash: Buffer): string | null {
  if (head === undefined || head.hash === hash.toString('hex')) return null;
  return `its hash is not the one exported on ${head.date}: the chain was written anew`;
}

async function readUnsealed(
  client: Pick<pg.Client, 'query'>,
  organisationId: string,
): Promise<{ waiting: number; forgotten: string | null }> {
  const { rows } = await client.query<{ waiting: number; forgotten: string | null }>(
    `SELECT count(*)::int AS waiting,
            (array_agg(e.id ORDER BY e.at) FILTER (WHERE e.at < (SELECT max(sealed_at) FROM audit_seals WHERE organisation_id = $1)
                                                               - $2::interval))[1] AS forgotten
     FROM audit_entries e
     WHERE e.organisation_id = $1
       AND NOT EXISTS (SELECT 1 FROM audit_seals s WHERE s.organisation_id = $1 AND s.audit_entry_id = e.id)`,
    [organisationId, UNSEALED_FOR],
  );
  return rows[0] ?? { waiting: 0, forgotten: null };
}
