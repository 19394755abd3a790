import pg from 'pg';
import { createDatabase } from '../support/database.mjs';

let db: Awaited<ReturnType<typeof createDatabase>>;
let client: pg.Client;

beforeAll(async () => {
  db = await createDatabase();
  client = new pg.Client({ connectionString: db.superuserUrl });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await db.drop();
});

const names = async (sql: string): Promise<string[]> =>
  (await client.query<{ name: string }>(sql)).rows.map((row) => row.name);

/** Tables that belong to nobody: people and sign-in, reached by the gate's login alone, and the migration history. */
const GLOBAL = [
  '_prisma_migrations',
  'authenticators',
  'known_devices',
  'notices',
  'one_time_links',
  'passkey_challenges',
  'passkeys',
  'recovery_codes',
  'sessions',
  'sign_in_attempts',
  'users',
];
const TENANT = `
  SELECT c.oid, c.relname FROM pg_class c
  WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND (c.relname = 'organisations'
    OR EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'organisation_id' AND NOT a.attisdropped)
       AND c.relname <> 'sessions')`;

describe('the catalogue', () => {
  it('every table is a tenant table or one of the few global ones', async () => {
    const all = await names(
      `SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p')`,
    );
    const tenant = await names(`SELECT relname AS name FROM (${TENANT}) t`);
    expect(tenant.length).toBeGreaterThan(40);
    expect(all.filter((name) => !tenant.includes(name)).sort()).toEqual(GLOBAL);
  });

  it('every tenant table has row security, enabled and forced', async () => {
    expect(
      await names(`SELECT t.relname AS name FROM (${TENANT}) t JOIN pg_class c ON c.oid = t.oid
                   WHERE NOT (c.relrowsecurity AND c.relforcerowsecurity)`),
    ).toEqual([]);
  });

  it("every right of a request role is bounded by a policy of its own, and TRUNCATE, REFERENCES and TRIGGER are nobody's", async () => {
    const unbounded = await names(`
      SELECT g.grantee || ' ' || g.privilege_type || ' ' || g.table_name AS name
      FROM information_schema.role_table_grants g
      WHERE g.grantee IN ('org_staff', 'org_customer') AND g.table_schema = 'public'
        AND NOT EXISTS (SELECT 1 FROM pg_policies p WHERE p.schemaname = 'public' AND p.tablename = g.table_name
                          AND g.grantee = ANY (p.roles) AND p.cmd IN (g.privilege_type, 'ALL'))
        -- A view that asks as whoever asks it is bounded by the policies of its tables.
        AND NOT EXISTS (SELECT 1 FROM pg_class v WHERE v.oid = to_regclass(format('public.%I', g.table_name)) AND v.relkind = 'v'
                          AND 'security_invoker=true' = ANY (coalesce(v.reloptions, '{}')))`);
    expect(unbounded).toEqual([]);
    expect(
      await names(`SELECT grantee || ' ' || privilege_type || ' ' || table_name AS name FROM information_schema.role_table_grants
                   WHERE grantee IN ('org_staff', 'org_customer', 'kedge_app', 'kedge_gate', 'PUBLIC')
                     AND table_schema = 'public' AND privilege_type IN ('TRUNCATE', 'REFERENCES', 'TRIGGER')`),
    ).toEqual([]);
  });

  it('policies compare plainly with the organisation of the transaction; those of customers with the customer as well', async () => {
    const { rows } = await client.query<{ tablename: string; policyname: string; roles: string; text: string }>(`
      SELECT tablename, policyname, array_to_string(roles, ',') AS roles, coalesce(qual, '') || ' ' || coalesce(with_check, '') AS text
      FROM pg_policies WHERE schemaname = 'public'`);
    const request = rows.filter((row) => /org_(staff|customer)/.test(row.roles));
    expect(request.length).toBeGreaterThan(100);
    for (const row of request) {
      expect(`${row.policyname}: ${row.text}`).toContain('current_organisation()');
      // What of the library is fitted at a customer's is known from what is fitted: test/tenancy/isolation.
      if (row.policyname !== 'component_types_customer_select') expect(row.text).not.toMatch(/select/i);
    }
    const withCustomer = await names(`SELECT attrelid::regclass::text AS name FROM pg_attribute
                                      WHERE attname = 'customer_id' AND NOT attisdropped AND attnum > 0`);
    const customers = request.filter(
      (row) => row.roles === 'org_customer' && (withCustomer.includes(row.tablename) || row.tablename === 'customers'),
    );
    expect(customers.length).toBeGreaterThan(20);
    for (const row of customers) expect(`${row.policyname}: ${row.text}`).toContain('current_customer()');
  });

  it('every policy that lets staff write also asks for the role', async () => {
    const open = await names(`
      SELECT policyname AS name FROM pg_policies
      WHERE schemaname = 'public' AND roles = '{org_staff}' AND cmd IN ('INSERT', 'UPDATE', 'DELETE')
        AND coalesce(with_check, qual) NOT LIKE '%current_role_name()%'`);
    // A kept answer belongs to the person, whatever the role.
    expect(open.filter((name) => !name.startsWith('idempotency_keys_'))).toEqual([]);
  });

  it('every foreign key between tenant tables holds the organisation, and between customer-owned ones the customer', async () => {
    expect(
      await names(`
        SELECT k.conname AS name FROM pg_constraint k
        JOIN (${TENANT}) a ON a.oid = k.conrelid JOIN (${TENANT}) b ON b.oid = k.confrelid
        WHERE k.contype = 'f' AND b.relname <> 'organisations'
          AND NOT EXISTS (SELECT 1 FROM unnest(k.conkey) n JOIN pg_attribute t ON t.attrelid = k.conrelid AND t.attnum = n
                           WHERE t.attname = 'organisation_id')`),
    ).toEqual([]);
    const owned = `EXISTS (SELECT 1 FROM pg_attribute x WHERE x.attrelid = %s AND x.attname = 'customer_id' AND x.attnotnull)`;
    expect(
      await names(`
        SELECT k.conname AS name FROM pg_constraint k
        WHERE k.contype = 'f' AND ${owned.replace('%s', 'k.conrelid')} AND ${owned.replace('%s', 'k.confrelid')}
          AND NOT EXISTS (SELECT 1 FROM unnest(k.conkey) n JOIN pg_attribute t ON t.attrelid = k.conrelid AND t.attnum = n
                           WHERE t.attname = 'customer_id')`),
    ).toEqual([]);
  });

  it('every unique key of a tenant table begins with the organisation', async () => {
    expect(
      await names(`
        SELECT i.indexrelid::regclass::text AS name FROM pg_index i JOIN (${TENANT}) t ON t.oid = i.indrelid
        JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = i.indkey[0]
        WHERE i.indisunique AND t.relname <> 'organisations' AND a.attname <> 'organisation_id'`),
    ).toEqual([]);
  });

  it('no view, materialised view or security-definer function goes around row security', async () => {
    expect(
      await names(
        // A view that asks as whoever asks it goes around nothing.
        `SELECT relname AS name FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('v', 'm')
         AND NOT (relkind = 'v' AND 'security_invoker=true' = ANY (coalesce(reloptions, '{}')))`,
      ),
    ).toEqual([]);
    expect(
      await names(`SELECT proname AS name FROM pg_proc WHERE pronamespace = 'public'::regnamespace AND prosecdef`),
    ).toEqual([]);
  });

  it('of a type of component a customer reads its name and figures, and nothing else that the integrator says of it', async () => {
    expect(
      await names(`SELECT column_name || ' ' || privilege_type AS name FROM information_schema.column_privileges
                   WHERE grantee = 'org_customer' AND table_name LIKE 'component_type%' ORDER BY 1`),
    ).toEqual(['figures SELECT', 'id SELECT', 'kind SELECT', 'name SELECT', 'organisation_id SELECT']);
  });

  it('the login of the requests owns nothing and has no rights of its own', async () => {
    expect(
      await names(`SELECT table_name AS name FROM information_schema.role_table_grants WHERE grantee = 'kedge_app'`),
    ).toEqual([]);
    expect(await names(`SELECT relname AS name FROM pg_class WHERE relowner = 'kedge_app'::regrole`)).toEqual([]);
    const { rows } = await client.query(`
      SELECT rolname, rolsuper, rolbypassrls, rolinherit FROM pg_roles
      WHERE rolname IN ('kedge_app', 'kedge_gate', 'kedge_owner', 'org_staff', 'org_customer') ORDER BY rolname`);
    expect(rows).toHaveLength(5);
    for (const role of rows) expect(role).toMatchObject({ rolsuper: false, rolbypassrls: false });
    expect(rows.find((role) => role.rolname === 'kedge_app')).toMatchObject({ rolinherit: false });
  });

  it('what was recorded cannot be changed or removed, not even by a superuser', async () => {
    const guarded = await names(
      `SELECT DISTINCT tgrelid::regclass::text AS name FROM pg_trigger WHERE tgname LIKE '%\\_append\\_only' ORDER BY 1`,
    );
    expect(guarded).toEqual([
      'audit_entries',
      'audit_seals',
      'component_type_revisions',
      'issue_comments',
      'readings',
      'service_events',
      'setup_records',
      'sizing_dependencies',
      'sizing_records',
      'target_settings',
    ]);
    await client.query(
      `INSERT INTO organisations (id, name, margins_asked) VALUES ('0190a000-0000-7000-8000-000000000001', 'X', '{}')`,
    );
    await client.query(`INSERT INTO audit_entries (organisation_id, id, actor_name, action, entity, entity_id)
      VALUES ('0190a000-0000-7000-8000-000000000001', '0190a000-0000-7000-8000-000000000002', 'a', 'b', 'c', '0190a000-0000-7000-8000-000000000003')`);
    await expect(client.query(`UPDATE audit_entries SET actor_name = 'z'`)).rejects.toThrow(
      'audit_entries is append-only',
    );
    await expect(client.query(`DELETE FROM audit_entries`)).rejects.toThrow('audit_entries is append-only');
    await expect(client.query(`TRUNCATE audit_entries CASCADE`)).rejects.toThrow('append-only');
  });

  it('every column of a typed quantity stands beside its SI value, both or neither', async () => {
    const entered = await names(`
      SELECT a.attrelid::regclass::text || '.' || a.attname AS name FROM pg_attribute a
      JOIN pg_class c ON c.oid = a.attrelid AND c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace
      WHERE a.attname LIKE '%\\_entered' AND NOT a.attisdropped
        AND NOT EXISTS (SELECT 1 FROM pg_constraint k WHERE k.conrelid = a.attrelid
                          AND k.conname = c.relname || '_' || left(a.attname, -8) || '_entered_check')`);
    expect(entered).toEqual([]);
  });
});
