import { withConnection } from '@repo/launcher/connection';

/** Everything in a catalogue that decides who may do what and what holds, as sorted lines that name no number of a server. */
const CATALOGUE = {
  columns: `SELECT table_schema, table_name, column_name, data_type, udt_name, is_nullable, column_default, is_identity,
      collation_name, numeric_precision, datetime_precision FROM information_schema.columns
    WHERE table_schema NOT IN ('pg_catalog', 'information_schema')`,
  'row security': `SELECT c.oid::regclass, c.relrowsecurity, c.relforcerowsecurity, c.relkind, c.relispartition,
      pg_get_expr(c.relpartbound, c.oid), c.relowner::regrole FROM pg_class c WHERE c.relkind IN ('r', 'p', 'v', 'S') AND OURS`,
  policies: `SELECT schemaname, tablename, policyname, permissive, roles, cmd, qual, with_check FROM pg_policies`,
  'grants on tables': `SELECT c.oid::regclass, (aclexplode(c.relacl)).grantee::regrole, (aclexplode(c.relacl)).privilege_type
    FROM pg_class c WHERE OURS`,
  'grants on columns': `SELECT a.attrelid::regclass, a.attname, (aclexplode(a.attacl)).grantee::regrole,
      (aclexplode(a.attacl)).privilege_type FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid WHERE OURS`,
  'grants on schemas': `SELECT nspname, (aclexplode(nspacl)).grantee::regrole, (aclexplode(nspacl)).privilege_type FROM pg_namespace
    WHERE nspname NOT LIKE 'pg\\_%' AND nspname <> 'information_schema'`,
  functions: `SELECT p.oid::regprocedure, md5(pg_get_functiondef(p.oid)), p.prosecdef, p.proowner::regrole
    FROM pg_proc p JOIN pg_namespace n ON n.oid = p.pronamespace WHERE n.nspname IN ('public', 'queue', 'graphile_worker')`,
  'grants on functions': `SELECT p.oid::regprocedure, (aclexplode(p.proacl)).grantee::regrole, (aclexplode(p.proacl)).privilege_type
    FROM pg_proc p JOIN pg_namespace n ON n.oid = p.pronamespace WHERE n.nspname IN ('public', 'queue', 'graphile_worker')`,
  triggers: `SELECT t.tgrelid::regclass, t.tgname, t.tgenabled, pg_get_triggerdef(t.oid) FROM pg_trigger t
    JOIN pg_class c ON c.oid = t.tgrelid WHERE NOT t.tgisinternal AND OURS`,
  indexes: `SELECT schemaname, tablename, indexdef FROM pg_indexes WHERE schemaname NOT IN ('pg_catalog', 'information_schema')`,
  constraints: `SELECT k.conrelid::regclass, k.conname, k.contype, k.convalidated, pg_get_constraintdef(k.oid) FROM pg_constraint k
    JOIN pg_class c ON c.oid = k.conrelid WHERE k.contype <> 'n' AND OURS`,
  roles: `SELECT rolname, rolsuper, rolinherit, rolcreaterole, rolcreatedb, rolcanlogin, rolreplication, rolbypassrls
    FROM pg_roles WHERE rolname ~ '^(kedge|org)_'`,
  memberships: `SELECT m.roleid::regrole, m.member::regrole FROM pg_auth_members m JOIN pg_roles r ON r.oid = m.member
    WHERE r.rolname ~ '^(kedge|org)_' AND r.rolname <> 'kedge_owner'`,
  sequences: `SELECT schemaname, sequencename, last_value, increment_by, max_value FROM pg_sequences`,
};

/** @param {string} name */
const OURS = (name) =>
  `${name}.relnamespace IN (SELECT oid FROM pg_namespace WHERE nspname IN ('public', 'queue', 'graphile_worker'))`;

/**
 * Where two databases differ, in lines; none when they are the same in catalogue, rows and sequences.
 * @param {string} oneUrl login that reads everything
 * @param {string} otherUrl
 * @param {{ owner?: string }} [options] the owner's name on the other server, where the owner is somebody's own login and the roles are
 *   theirs to attribute; a right that older servers do not know (MAINTAIN, of 17) is then left out
 * @returns {Promise<string[]>}
 */
export async function findDifferences(oneUrl, otherUrl, { owner } = {}) {
  const differences = [];
  const toOurs = (/** @type {string[]} */ lines) =>
    owner === undefined
      ? lines
      : lines
          .filter((line) => !line.includes('MAINTAIN'))
          .map((line) => line.replaceAll(new RegExp(`\\b${owner}\\b`, 'g'), 'kedge_owner'))
          .sort();
  for (const [what, sql] of Object.entries(CATALOGUE)) {
    if (owner !== undefined && ['roles', 'memberships'].includes(what)) continue;
    const text = sql.replaceAll('OURS', OURS('c'));
    differences.push(...compare(what, toOurs(await readLines(oneUrl, text)), toOurs(await readLines(otherUrl, text))));
  }
  const tables = await readLines(
    oneUrl,
    `SELECT c.oid::regclass FROM pg_class c WHERE c.relkind = 'r' AND ${OURS('c')} AND c.relname <> 'migrations'`,
  );
  for (const table of tables) {
    const rows = `SELECT t::text FROM ${table} t`;
    differences.push(...compare(`rows of ${table}`, await readLines(oneUrl, rows), await readLines(otherUrl, rows)));
  }
  return differences;
}

/**
 * @param {string} url
 * @param {string} sql
 * @returns {Promise<string[]>}
 */
function readLines(url, sql) {
  return withConnection(url, async (client) => {
    await client.query(`SET timezone = 'UTC'`);
    const { rows } = await client.query({ text: sql, rowMode: 'array' });
    return rows.map((row) => row.map((/** @type {unknown} */ value) => String(value)).join(' | ')).sort();
  });
}

/**
 * @param {string} what
 * @param {string[]} before
 * @param {string[]} other
 */
function compare(what, before, other) {
  const [inOne, inOther] = [new Set(before), new Set(other)];
  const lines = [
    ...before.filter((line) => !inOther.has(line)).map((line) => `${what}, gone: ${line}`),
    ...other.filter((line) => !inOne.has(line)).map((line) => `${what}, new: ${line}`),
  ];
  return before.length === other.length || lines.length > 0
    ? lines
    : [`${what}: ${before.length} became ${other.length}`];
}
