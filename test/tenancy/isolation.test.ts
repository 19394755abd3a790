import pg from 'pg';
import {
  aCircuit,
  addPerson,
  anOrganisation,
  asSuperuser,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
import { startApi, type TestApi } from '../support/api.js';

let api: TestApi;
let mine: Organisation;
let theirs: Organisation;
let world: CircuitWorld;
let neighbour: CircuitWorld;
let foreign: CircuitWorld;
let app: pg.Client;
let tables: string[];

interface As {
  role: 'org_staff' | 'org_customer';
  organisation: string;
  customer?: string;
  appRole: string;
}

/** Runs SQL in a transaction that speaks for somebody; always rolls back. */
async function speakingFor<T>(who: As, work: (client: pg.Client) => Promise<T>): Promise<T> {
  await app.query('BEGIN');
  try {
    await app.query(
      `SELECT set_config('role', $1, true), set_config('app.organisation_id', $2, true),
              set_config('app.customer_id', $3, true), set_config('app.role', $4, true)`,
      [who.role, who.organisation, who.customer ?? '', who.appRole],
    );
    return await work(app);
  } finally {
    await app.query('ROLLBACK');
  }
}
const staff = (organisation: Organisation, appRole = 'engineer'): As => ({
  role: 'org_staff',
  organisation: organisation.id,
  appRole,
});

beforeAll(async () => {
  api = await startApi();
  mine = await anOrganisation(api, 'Mine');
  theirs = await anOrganisation(api, 'Theirs');
  world = await aCircuit(await api.as(mine.emails.engineer), 'M1');
  neighbour = await aCircuit(await api.as(mine.emails.engineer), 'M2');
  foreign = await aCircuit(await api.as(theirs.emails.engineer), 'T1');
  await addPerson(api, mine, 'viewer', 'viewer', world.customerId);
  app = new pg.Client({ connectionString: api.db.appUrl });
  await app.connect();
  const superuser = new pg.Client({ connectionString: api.db.superuserUrl });
  await superuser.connect();
  const found = await superuser.query<{ relname: string }>(`
    SELECT relname FROM pg_class c WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p') AND NOT relispartition
      AND EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'organisation_id') AND relname <> 'sessions'`);
  await superuser.end();
  tables = found.rows.map((row) => row.relname);
});
afterAll(async () => {
  await app.end();
  await api.stop();
});

describe('row security, asked in SQL with the login of the requests', () => {
  it('without a role the login reads nothing at all', async () => {
    for (const table of tables)
      await expect(app.query(`SELECT 1 FROM "${table}"`)).rejects.toThrow(/permission denied|does not exist/);
  });

  it('with a role but no organisation every table is empty', async () => {
    const readable = await speakingFor({ role: 'org_staff', organisation: '', appRole: '' }, async (client) => {
      const counts: number[] = [];
      for (const table of tables) {
        counts.push((await client.query(`SELECT 1 FROM "${table}" LIMIT 1`)).rowCount ?? 0);
      }
      return counts;
    });
    expect(readable.every((count) => count === 0)).toBe(true);
  });

  it('staff of one organisation see no row of another, in any table', async () => {
    const rows = await speakingFor(staff(mine), async (client) => {
      let seen = 0;
      for (const table of tables) {
        const { rows: found } = await client.query<{ organisation_id: string }>(
          `SELECT DISTINCT organisation_id FROM "${table}"`,
        );
        expect(found.map((row) => row.organisation_id).filter((id) => id !== mine.id)).toEqual([]);
        seen += found.length;
      }
      return seen;
    });
    expect(rows).toBeGreaterThan(15);
  });

  it("a customer's people see no row of another customer, in any table that they may read", async () => {
    const who: As = { role: 'org_customer', organisation: mine.id, customer: world.customerId, appRole: 'viewer' };
    const visible = await speakingFor(who, async (client) => {
      const found: string[] = [];
      for (const table of tables) {
        await client.query('SAVEPOINT one');
        try {
          const column = table === 'customers' ? 'id' : 'customer_id';
          const { rows } = await client.query<Record<string, string>>(`SELECT DISTINCT ${column} FROM "${table}"`);
          expect(rows.map((row) => row[column]).filter((id) => id !== world.customerId)).toEqual([]);
          if (rows.length > 0) found.push(table);
        } catch (error) {
          if (!(error instanceof pg.DatabaseError)) throw error;
          expect(['42501', '42703']).toContain(error.code);
          await client.query('ROLLBACK TO SAVEPOINT one');
        }
      }
      return found;
    });
    expect(visible).toEqual(
      expect.arrayContaining(['customers', 'machines', 'circuits', 'setup_records', 'circuit_standings']),
    );
    expect(visible).not.toContain('component_types');
  });

  it("of the library a customer's people read the types that are or were fitted at theirs", async () => {
    const who: As = { role: 'org_customer', organisation: mine.id, customer: world.customerId, appRole: 'viewer' };
    const idsOf = (rows: { id: string }[]) => rows.map(({ id }) => id).sort();
    const read = 'SELECT id, name, figures FROM component_types';
    const visible = await speakingFor(who, (client) => client.query<{ id: string }>(read));
    const fitted = await speakingFor(staff(mine), (client) =>
      client.query<{ id: string; customer_id: string }>(
        'SELECT DISTINCT component_type_id AS id, customer_id FROM installed_components',
      ),
    );
    const fittedHere = fitted.rows.filter((row) => row.customer_id === world.customerId);
    expect(fittedHere.length).toBeGreaterThan(1);
    expect(fitted.rows.length).toBeGreaterThan(fittedHere.length);
    expect(idsOf(visible.rows)).toEqual(idsOf(fittedHere));
    const elsewhere: As = { ...who, organisation: theirs.id };
    expect((await speakingFor(elsewhere, (client) => client.query(read))).rowCount).toBe(0);
  });

  it('a row of another organisation cannot be written, moved or pointed at', async () => {
    await speakingFor(staff(mine), async (client) => {
      const changed = await client.query('UPDATE machines SET name = $1 WHERE id = $2', ['taken', foreign.machineId]);
      expect(changed.rowCount).toBe(0);
    });
    await expect(
      speakingFor(staff(mine), (client) =>
        client.query('UPDATE machines SET organisation_id = $1 WHERE id = $2', [theirs.id, world.machineId]),
      ),
    ).rejects.toThrow('row-level security');
    await expect(
      speakingFor(staff(mine), (client) =>
        client.query(
          `INSERT INTO stations (organisation_id, customer_id, id, machine_id, name, position)
           VALUES ($1, $2, gen_random_uuid(), $3, 'x', 9)`,
          [mine.id, world.customerId, foreign.machineId],
        ),
      ),
    ).rejects.toThrow('foreign key');
    await expect(
      speakingFor(staff(mine), (client) =>
        client.query(
          `INSERT INTO stations (organisation_id, customer_id, id, machine_id, name, position)
           VALUES ($1, $2, gen_random_uuid(), $3, 'x', 9)`,
          [mine.id, world.customerId, neighbour.machineId],
        ),
      ),
    ).rejects.toThrow('foreign key');
  });

  it('what a role may not do, the database refuses too', async () => {
    const release = (appRole: string) =>
      speakingFor(staff(mine, appRole), (client) =>
        client.query(
          `INSERT INTO target_settings (organisation_id, customer_id, id, circuit_id, revision, reason, released_by, released_by_name)
           VALUES ($1, $2, gen_random_uuid(), $3, 99, 'x', gen_random_uuid(), 'x')`,
          [mine.id, world.customerId, world.circuitId],
        ),
      );
    await expect(release('installer')).rejects.toThrow('row-level security');
    await expect(release('administrator')).rejects.toThrow('row-level security');
    await expect(release('')).rejects.toThrow('row-level security');
    expect((await release('engineer')).rowCount).toBe(1);
    const member = (appRole: string) =>
      speakingFor(staff(mine, appRole), (client) =>
        client.query(`UPDATE memberships SET role = 'administrator' WHERE customer_id IS NULL`),
      );
    expect((await member('engineer')).rowCount).toBe(0);
    expect((await member('administrator')).rowCount).toBeGreaterThan(0);
  });

  it('the next borrower of the connection inherits nothing', async () => {
    await speakingFor(staff(mine), (client) => client.query('SELECT count(*) FROM machines'));
    const { rows } = await app.query(
      `SELECT current_user AS who, current_setting('app.organisation_id', true) AS organisation`,
    );
    expect(rows[0]).toEqual({ who: 'kedge_app', organisation: '' });
  });

  it('the gate reads who is who and nothing that they own', async () => {
    const gate = new pg.Client({ connectionString: api.db.gateUrl });
    await gate.connect();
    try {
      await expect(gate.query('SELECT 1 FROM machines')).rejects.toThrow('permission denied');
      await expect(gate.query('SELECT 1 FROM audit_entries')).rejects.toThrow('permission denied');
      expect((await gate.query('SELECT 1 FROM memberships')).rowCount).toBeGreaterThan(4);
      await expect(gate.query(`UPDATE memberships SET role = 'administrator'`)).rejects.toThrow('permission denied');
    } finally {
      await gate.end();
    }
  });

  it('a dump by a login that row security binds fails instead of leaving half out', async () => {
    await app.query('BEGIN');
    await app.query('SET LOCAL row_security = off');
    await app.query(`SELECT set_config('role', 'org_staff', true)`);
    await expect(app.query('SELECT * FROM machines')).rejects.toThrow('row-level security');
    await app.query('ROLLBACK');
  });

  it('a type is found in a few pages, however much is fitted at this customer and at others', async () => {
    await asSuperuser(api, async (client) => {
      await client.query(
        `INSERT INTO component_types (organisation_id, id, kind, name)
         SELECT $1, gen_random_uuid(), 'hose', 'many ' || n FROM generate_series(1, 2000) n`,
        [mine.id],
      );
      for (const { customerId, machineId } of [world, neighbour]) {
        await client.query(
          `INSERT INTO installed_components (organisation_id, customer_id, id, machine_id, component_type_id, designation, line_functions, valid_from, recorded_by)
           SELECT $1, $2, gen_random_uuid(), $3, t.id, t.name || ' ' || n, '{}', now(), gen_random_uuid()
           FROM component_types t, generate_series(1, 10) n WHERE t.organisation_id = $1 AND t.name LIKE 'many %'`,
          [mine.id, customerId, machineId],
        );
      }
      await client.query('ANALYZE component_types, installed_components');
    });
    const who: As = { role: 'org_customer', organisation: mine.id, customer: world.customerId, appRole: 'viewer' };
    const plan = await speakingFor(who, (client) =>
      client.query<{ 'QUERY PLAN': [{ Plan: { 'Shared Hit Blocks': number; 'Shared Read Blocks': number } }] }>(
        `EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON) SELECT name FROM component_types WHERE organisation_id = '${mine.id}' AND id = '${world.hoseTypeId}'`,
      ),
    );
    const { Plan } = plan.rows[0]?.['QUERY PLAN'][0] ?? {};
    expect(Plan).toMatchObject({ 'Actual Rows': 1 });
    // Of 40,000 rows: common practice, no source.
    expect((Plan?.['Shared Hit Blocks'] ?? NaN) + (Plan?.['Shared Read Blocks'] ?? NaN)).toBeLessThan(20);
  });
});
