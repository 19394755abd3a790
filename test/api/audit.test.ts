import { createHash } from 'node:crypto';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, asSuperuser, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Audited');
  engineer = await api.as(organisation.emails.engineer);
});
afterAll(() => api.stop());

interface Row {
  sequence: number;
  previous_hash: Buffer;
  hash: Buffer;
  entry: Record<string, unknown>;
}

/** The chain as anybody with the rows can verify it: nothing of the application is used. */
function firstBroken(rows: readonly Row[]): number | null {
  let before = Buffer.alloc(32);
  for (const [index, row] of rows.entries()) {
    // RFC 8785 of flat texts and numbers: keys sorted, no spaces.
    const sorted = (value: unknown): unknown =>
      typeof value === 'object' && value !== null && !Array.isArray(value)
        ? Object.fromEntries(
            Object.entries(value)
              .sort(([a], [b]) => (a < b ? -1 : 1))
              .map(([key, inner]) => [key, sorted(inner)]),
          )
        : value;
    const text = JSON.stringify(sorted({ ...row.entry, sequence: row.sequence }));
    const hash = createHash('sha256').update(before).update(text).digest();
    if (row.sequence !== index + 1 || !row.previous_hash.equals(before) || !row.hash.equals(hash)) return row.sequence;
    before = hash;
  }
  return null;
}

async function readChain(): Promise<Row[]> {
  return asSuperuser(api, async (client) => {
    const { rows } = await client.query(
      `SELECT s.sequence, s.previous_hash, s.hash, e.* FROM audit_seals s
       JOIN audit_entries e ON e.organisation_id = s.organisation_id AND e.id = s.audit_entry_id
       WHERE s.organisation_id = $1 ORDER BY s.sequence`,
      [organisation.id],
    );
    return rows.map((row) => ({
      sequence: row.sequence,
      previous_hash: row.previous_hash,
      hash: row.hash,
      entry: {
        organisationId: row.organisation_id,
        id: row.id,
        customerId: row.customer_id,
        at: row.at.toISOString(),
        actorMembershipId: row.actor_membership_id,
        actorName: row.actor_name,
        action: row.action,
        entity: row.entity,
        entityId: row.entity_id,
        changes: row.changes,
        requestId: row.request_id,
      },
    }));
  });
}

const until = async <T>(read: () => Promise<T>, isDone: (value: T) => boolean): Promise<T> => {
  for (let round = 0; ; round += 1) {
    const value = await read();
    if (isDone(value) || round > 60) return value;
    await new Promise((resolve) => setTimeout(resolve, 250));
  }
};

describe('the audit trail', () => {
  it('every change is written with its transaction and sealed into one chain within seconds', async () => {
    const ids = Array.from({ length: 12 }, () => uuidv7());
    await Promise.all(
      ids.map((id, index) => engineer.post('/customers', { id, name: `Audited ${index}` }).expect(201)),
    );
    const { body } = await until(
      async () => engineer.get('/audit-entries?entity=customer'),
      (response) => response.body.items.every((one: { sequence: number | null }) => one.sequence !== null),
    );
    expect(body.items.map((one: { entityId: string }) => one.entityId).sort()).toEqual([...ids].sort());
    const chain = await readChain();
    expect(chain).toHaveLength(12);
    expect(firstBroken(chain)).toBeNull();
  });

  it('a change that was refused leaves no entry', async () => {
    await engineer.post('/customers', { id: uuidv7(), name: 'Audited 0' }).expect(409);
    const { body } = await engineer.get('/audit-entries?limit=200').expect(200);
    expect(body.items).toHaveLength(12);
  });

  it('an entry that somebody with all rights altered or removed is found by its place', async () => {
    await asSuperuser(api, async (client) => {
      await client.query('ALTER TABLE audit_entries DISABLE TRIGGER USER');
      await client.query(
        `UPDATE audit_entries SET actor_name = 'somebody else'
         WHERE id = (SELECT audit_entry_id FROM audit_seals WHERE organisation_id = $1 AND sequence = 5)`,
        [organisation.id],
      );
    });
    const chain = await readChain();
    expect(firstBroken(chain)).toBe(5);
    expect(firstBroken(chain.filter((row) => row.sequence !== 3))).toBe(4);
    expect(firstBroken([...chain.slice(0, 2), ...chain.slice(2, 4).reverse()])).toBe(4);
  });
});
