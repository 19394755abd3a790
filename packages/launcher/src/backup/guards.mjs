import { toName } from './catalogue.mjs';

/** @typedef {import('pg').Client} Client */

/**
 * Lays aside, in the transaction of a restore, what stands between the owner and rows that were right once: forced row security,
 * triggers (counts would be counted twice, append-only tables would refuse, jobs would be enqueued again) and foreign keys, which
 * would ask for each row before the other is there. Every one can be laid aside by the owner alone; none is left out for good.
 * @param {Client} client
 * @returns {Promise<() => Promise<void>>} puts all back as it was; foreign keys are asked anew, of every row
 */
export async function layGuardsAside(client) {
  const forced = await list(client, 'c.relforcerowsecurity');
  const triggered = await list(
    client,
    'EXISTS (SELECT 1 FROM pg_trigger t WHERE t.tgrelid = c.oid AND NOT t.tgisinternal)',
  );
  const { rows: keys } = await client.query(
    `SELECT n.nspname AS schema, c.relname AS name, k.conname AS key, pg_get_constraintdef(k.oid) AS definition
     FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE k.contype = 'f' AND k.conparentid = 0 AND n.nspname IN ('public', 'queue', 'graphile_worker') ORDER BY 1, 2, 3`,
  );
  await assertPlainTriggers(client);
  for (const table of forced) await client.query(`ALTER TABLE ${table} NO FORCE ROW LEVEL SECURITY`);
  for (const table of triggered) await client.query(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
  for (const { key, ...table } of keys) {
    await client.query(`ALTER TABLE ${toName(client, table)} DROP CONSTRAINT ${client.escapeIdentifier(key)}`);
  }
  return async () => {
    for (const { key, definition, ...table } of keys) {
      const name = client.escapeIdentifier(key);
      await client.query(`ALTER TABLE ${toName(client, table)} ADD CONSTRAINT ${name} ${definition}`);
    }
    for (const table of triggered) await client.query(`ALTER TABLE ${table} ENABLE TRIGGER USER`);
    for (const table of forced) await client.query(`ALTER TABLE ${table} FORCE ROW LEVEL SECURITY`);
  };
}

/**
 * @param {Client} client
 * @param {string} condition
 * @returns {Promise<string[]>} tables, a partition being one and its whole another
 */
async function list(client, condition) {
  const { rows } = await client.query(
    `SELECT n.nspname AS schema, c.relname AS name FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE c.relkind IN ('r', 'p') AND n.nspname IN ('public', 'queue', 'graphile_worker') AND ${condition} ORDER BY 1, 2`,
  );
  return rows.map((row) => toName(client, row));
}

/**
 * All are switched on again alike afterwards; one that a migration had left off would be on.
 * @param {Client} client
 */
async function assertPlainTriggers(client) {
  const { rows } = await client.query(
    `SELECT tgname AS name FROM pg_trigger WHERE NOT tgisinternal AND tgenabled <> 'O'`,
  );
  if (rows.length > 0) throw new Error(`the trigger ${rows[0].name} is not simply on: a restore would change it`);
}
