import { withConnection } from '@repo/launcher/connection';
import { keepCountMonths } from '@repo/launcher/count-months';
import { makeWorld } from '../bench/ingest-world.mjs';
import { createDatabase } from '../support/database.mjs';

const PARTITIONS = `SELECT relname AS name FROM pg_class JOIN pg_inherits ON inhrelid = oid
  WHERE inhparent = 'alarm_counts'::regclass ORDER BY 1`;

describe('The upkeep of alarm counts', () => {
  let db: Awaited<ReturnType<typeof createDatabase>>;
  beforeEach(async () => {
    db = await createDatabase();
  });
  afterEach(() => db.drop());

  const names = () =>
    withConnection(db.superuserUrl, async (client) =>
      (await client.query<{ name: string }>(PARTITIONS)).rows.map(({ name }) => name),
    );

  it('makes months ahead, moves what waited for them, and drops what is past keeping in under a second', async () => {
    const world = await makeWorld(db.superuserUrl, { machines: 1 });
    const insert = (first: string, hours: number) =>
      withConnection(db.superuserUrl, (client) =>
        client.query(
          `INSERT INTO alarm_counts (organisation_id, customer_id, circuit_id, source_id, webhook_id, from_at, to_at, revision,
                                     clamp_cycles, alarms, numbers_hash)
           SELECT $1, $2, $3, $4, 'x', h, h + interval '1 hour', 1, 1, '{}', n
           FROM generate_series($5::timestamptz, $5::timestamptz + make_interval(hours => $6 - 1), interval '1 hour') h,
                generate_series(1, 100) n`,
          [world.organisationId, world.customerId, world.machines[0]?.circuitIds[0], world.sourceIds[0], first, hours],
        ),
      );
    await insert('2028-03-05T00:00:00Z', 24);
    await insert('2025-07-05T00:00:00Z', 500);
    const now = new Date('2028-02-10T00:00:00Z');
    const began = performance.now();
    const { made, dropped } = await keepCountMonths({ ownerUrl: db.ownerUrl, now });
    const tookMs = performance.now() - began;
    expect(made).toHaveLength(13);
    expect(made[1]).toBe('alarm_counts_2028_03');
    expect(dropped).toEqual([
      'alarm_counts_2025_07',
      'alarm_counts_2025_08',
      'alarm_counts_2025_09',
      'alarm_counts_2025_10',
      'alarm_counts_2025_11',
      'alarm_counts_2025_12',
    ]);
    expect(tookMs / (made.length + dropped.length)).toBeLessThan(1000);
    const all = await names();
    expect(all).toContain('alarm_counts_2029_02');
    expect(all).not.toContain('alarm_counts_2025_12');
    await withConnection(db.superuserUrl, async (client) => {
      const { rows } = await client.query<{ month: string; n: number }>(
        'SELECT tableoid::regclass::text AS month, count(*)::int AS n FROM alarm_counts GROUP BY 1',
      );
      expect(rows).toEqual([{ month: 'alarm_counts_2028_03', n: 2400 }]);
      const open = await client.query(
        `SELECT relname FROM pg_class JOIN pg_inherits ON inhrelid = oid
         WHERE inhparent = 'alarm_counts'::regclass AND NOT (relrowsecurity AND relforcerowsecurity)`,
      );
      expect(open.rows).toEqual([]);
    });
    expect(await keepCountMonths({ ownerUrl: db.ownerUrl, now })).toEqual({ made: [], dropped: [], receipts: 0 });
  });

  it('deletes receipts that are older than 30 days, and the policy lets it reach no others', async () => {
    const world = await makeWorld(db.superuserUrl, { machines: 1 });
    await withConnection(db.superuserUrl, (client) =>
      client.query(
        `INSERT INTO deliveries (organisation_id, id, source_id, webhook_id, body_sha256, received_at, state)
         SELECT $1, gen_random_uuid(), $2, d::text, '\\x00', now() - make_interval(days => d), 'taken-in' FROM generate_series(25, 35) d`,
        [world.organisationId, world.sourceIds[0]],
      ),
    );
    expect(await keepCountMonths({ ownerUrl: db.ownerUrl })).toMatchObject({ receipts: 6 });
    await withConnection(db.ownerUrl, async (client) => {
      const { rowCount } = await client.query('DELETE FROM deliveries');
      expect(rowCount).toBe(0);
    });
    await withConnection(db.superuserUrl, async (client) => {
      const { rows } = await client.query('SELECT count(*)::int AS n FROM deliveries');
      expect(rows).toEqual([{ n: 5 }]);
    });
  });
});
