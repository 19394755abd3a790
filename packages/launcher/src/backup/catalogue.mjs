/** @typedef {import('pg').Client} Client */

/** Everything that is the database's own content: neither PostgreSQL's nor an extension's, nor of a session. */
const OURS = `n.nspname NOT IN ('pg_catalog', 'information_schema') AND n.nspname NOT LIKE 'pg\\_%'
  AND NOT EXISTS (SELECT 1 FROM pg_depend d WHERE d.classid = 'pg_class'::regclass AND d.objid = c.oid AND d.deptype = 'e')`;

/** The queue's own note of its version: it belongs to the tables as they are, not to the rows. */
const NO_ROWS = `(n.nspname = 'graphile_worker' AND c.relname = 'migrations')`;

/**
 * The tables that hold rows, a partition being one.
 * @param {Client} client
 * @returns {Promise<import('./format.mjs').BackedUpTable[]>}
 */
export async function listTables(client) {
  const { rows } = await client.query(
    `SELECT n.nspname AS schema, c.relname AS name,
       (SELECT json_agg(a.attname ORDER BY a.attnum) FROM pg_attribute a
        WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = '') AS columns
     FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE c.relkind = 'r' AND ${OURS} AND NOT ${NO_ROWS} ORDER BY 1, 2`,
  );
  return rows;
}

/**
 * @param {Client} client
 * @returns {Promise<import('./format.mjs').End['sequences']>}
 */
export async function listSequences(client) {
  const { rows } = await client.query(
    `SELECT n.nspname AS schema, c.relname AS name FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE c.relkind = 'S' AND ${OURS} ORDER BY 1, 2`,
  );
  const sequences = [];
  for (const { schema, name } of rows) {
    const { rows: state } = await client.query(
      `SELECT last_value::text AS value, is_called FROM ${toName(client, { schema, name })}`,
    );
    sequences.push({ schema, name, value: state[0].value, isCalled: state[0].is_called });
  }
  return sequences;
}

/**
 * What a database holds that was made in it, but for the job queue's tables, which an interrupted restore may leave empty.
 * @param {Client} client
 * @returns {Promise<string[]>}
 */
export async function listContents(client) {
  const { rows } = await client.query(
    `SELECT n.nspname || '.' || c.relname AS name FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE ${OURS} AND n.nspname <> 'graphile_worker' ORDER BY 1`,
  );
  return rows.map((row) => row.name);
}

/** @param {Client} client */
export async function listCountMonths(client) {
  const { rows } = await client.query(
    `SELECT c.relname AS name FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid
     WHERE i.inhparent = 'public.alarm_counts'::regclass AND c.relname ~ '^alarm_counts_\\d{4}_\\d{2}$' ORDER BY 1`,
  );
  return rows.map((row) => String(row.name));
}

/** @param {Client} client */
export async function readQueueVersion(client) {
  const { rows } = await client.query('SELECT coalesce(max(id), 0)::int AS newest FROM graphile_worker.migrations');
  return Number(rows[0].newest);
}

/**
 * @param {Client} client
 * @param {{ schema: string, name: string }} table
 */
export function toName(client, { schema, name }) {
  return `${client.escapeIdentifier(schema)}.${client.escapeIdentifier(name)}`;
}
