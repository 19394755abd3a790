import { createHash } from 'node:crypto';
import { bringUpToDate } from '../database/bring-up-to-date.mjs';
import { withConnection } from '../database/connection.mjs';
import { setCountMonths } from '../database/count-months.mjs';
import { applyMigrationsOf } from '../migrate.mjs';
import { installQueue } from '../queue.mjs';
import { errorCode, PlainError } from '../support/plain-error.mjs';
import { readArchive } from './archive.mjs';
import { listContents, listCountMonths, listSequences, listTables, readQueueVersion, toName } from './catalogue.mjs';
import { READ_ALIKE } from './dump.mjs';
import { BEGIN, END, FORMAT, readRowsName, SECRET } from './format.mjs';
import { layGuardsAside } from './guards.mjs';
import { Loading } from './loading.mjs';
import { notWhole } from './not-whole.mjs';

/** @typedef {import('pg').Client} Client */
/** @typedef {import('./format.mjs').Begin} Begin */
/** @typedef {import('./format.mjs').End} End */
/** @typedef {import('./loading.mjs').Loaded} Loaded */

const DISK_FULL = '53100';

/**
 * Restores a backup into an empty database, as the login that owns it: no superuser is needed. Schema, rows and checks are one
 * transaction, committed after the last row was compared with what the backup says of itself; a restore that was refused, failed or
 * was killed leaves the database as empty as it was.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.file
 * @param {string | null} input.passphrase
 * @param {(secret: string) => void} input.onSecret takes the secret that the API seals with, where the backup holds it, before any
 *   row is loaded; what it throws ends the restore
 * @returns {Promise<{ madeAt: string, tables: number, rows: number, hasSecret: boolean }>}
 * @throws {PlainError}
 */
export async function load({ ownerUrl, file, passphrase, onSecret }) {
  const entries = readArchive(file, passphrase);
  try {
    const begin = await readBegin(entries, file);
    await withConnection(ownerUrl, assertEmpty);
    await installQueue({ ownerUrl });
    const result = await withConnection(ownerUrl, async (client) => {
      await client.query(`BEGIN; ${READ_ALIKE}`);
      // A connection that ends takes its transaction with it: nothing to roll back by hand.
      const loaded = await loadAll(client, { entries, begin, file, onSecret });
      await client.query('COMMIT');
      await client.query('ANALYZE');
      return loaded;
    });
    // What this version adds to the one that was backed up.
    await bringUpToDate({ ownerUrl });
    return { madeAt: begin.madeAt, ...result };
  } catch (error) {
    throw toLoadError(error);
  } finally {
    await entries.return(undefined);
  }
}

/** @param {unknown} error */
function toLoadError(error) {
  if (error instanceof PlainError) return error;
  const text = error instanceof Error ? error.message : String(error);
  if (errorCode(error) !== DISK_FULL && !/No space left|Connection terminated|terminating connection/.test(text))
    return error;
  return new PlainError(
    `The database could not take the backup (${text}).`,
    'Most often its disk is full: free some space, or restore to another disk. Nothing was restored.',
    error,
  );
}

/**
 * @param {AsyncGenerator<import('./archive.mjs').ArchiveEntry>} entries
 * @param {string} file
 * @returns {Promise<Begin>}
 */
async function readBegin(entries, file) {
  const { value: first } = await entries.next();
  if (first === undefined || first.name !== BEGIN) throw notWhole(file, 'it has no beginning');
  const begin = JSON.parse((await readAll(first.bytes)).toString('utf8'));
  if (begin.format > FORMAT) {
    throw new PlainError(
      `${file} has format ${begin.format}; this version reads up to ${FORMAT}.`,
      `Restore it with the version that wrote it (${begin.product}) or a later one.`,
    );
  }
  return begin;
}

/** @param {Client} client */
async function assertEmpty(client) {
  const contents = await listContents(client);
  const waiting = await client.query(`SELECT to_regclass('graphile_worker._private_jobs') IS NOT NULL AS is_there`);
  if (waiting.rows[0].is_there) {
    const { rows } = await client.query('SELECT count(*)::int AS jobs FROM graphile_worker._private_jobs');
    if (rows[0].jobs > 0) contents.push(`${rows[0].jobs} waiting jobs`);
  }
  if (contents.length === 0) return;
  const { rows } = await client.query('SELECT current_database() AS name');
  throw new PlainError(
    `The database "${rows[0].name}" is not empty (${contents.slice(0, 3).join(', ')}${contents.length > 3 ? ' …' : ''}). Nothing was changed.`,
    'Restore into a database that has just been made: nothing is ever restored over something else.',
  );
}

/**
 * @param {Client} client
 * @param {{ entries: AsyncGenerator<import('./archive.mjs').ArchiveEntry>, begin: Begin, file: string, onSecret: (secret: string) => void }} input
 */
async function loadAll(client, { entries, begin, file, onSecret }) {
  await assertKnownQueue(client, begin, file);
  await applyMigrationsOf(client, begin.migrations);
  await setCountMonths(client, { there: await listCountMonths(client), wanted: begin.countMonths });
  const tables = new Map(begin.tables.map((table) => [`${table.schema}.${table.name}`, table]));
  await assertSameTables(client, tables, file);
  const putBack = await layGuardsAside(client);
  await client.query(`TRUNCATE ${begin.tables.map((table) => toName(client, table)).join(', ')}`);

  const loading = new Loading(client, tables, file);
  /** @type {End | null} */
  let end = null;
  let hasSecret = false;
  for await (const { name, bytes } of entries) {
    const table = readRowsName(name);
    if (table !== null) await loading.add(table, bytes);
    else if (name === SECRET) {
      onSecret((await readAll(bytes)).toString('utf8'));
      hasSecret = true;
    } else if (name === END) end = JSON.parse((await readAll(bytes)).toString('utf8'));
    else throw notWhole(file, `it holds "${name}"`);
  }
  const loaded = await loading.finish();
  if (end === null) throw notWhole(file, 'its end is missing');
  compare(end, loaded, file);
  await setSequences(client, end);
  await putBack();
  return { tables: end.tables.length, rows: end.tables.reduce((sum, { rows }) => sum + rows, 0), hasSecret };
}

/**
 * @param {Client} client
 * @param {Begin} begin
 * @param {string} file
 */
async function assertKnownQueue(client, { queue, product }, file) {
  if (queue <= (await readQueueVersion(client))) return;
  throw new PlainError(
    `${file} was made by a later version (${product}), whose job queue this one does not know.`,
    'Restore it with that version or a later one.',
  );
}

/**
 * @param {Client} client
 * @param {Map<string, import('./format.mjs').BackedUpTable>} wanted
 * @param {string} file
 */
async function assertSameTables(client, wanted, file) {
  const there = new Set((await listTables(client)).map(({ schema, name }) => `${schema}.${name}`));
  const strange = [...wanted.keys()].filter((name) => !there.has(name));
  if (strange.length > 0) throw notWhole(file, `its migrations make no table ${strange.join(', ')}`);
}

/**
 * @param {End} end
 * @param {Map<string, Loaded>} loaded
 * @param {string} file
 */
function compare(end, loaded, file) {
  const nothing = { rows: 0, sha256: createHash('sha256').digest('hex') };
  for (const { table, rows, sha256 } of end.tables) {
    const got = loaded.get(table) ?? nothing;
    if (got.rows !== rows) throw notWhole(file, `${table} has ${got.rows} rows in it and should have ${rows}`);
    if (got.sha256 !== sha256) throw notWhole(file, `the rows of ${table} are not those that were backed up`);
  }
  const listed = new Set(end.tables.map(({ table }) => table));
  const unsaid = [...loaded.keys()].filter((table) => !listed.has(table));
  if (unsaid.length > 0) throw notWhole(file, `its end does not know ${unsaid.join(', ')}`);
}

/**
 * @param {Client} client
 * @param {End} end
 */
async function setSequences(client, { sequences }) {
  const there = new Set((await listSequences(client)).map(({ schema, name }) => `${schema}.${name}`));
  for (const { schema, name, value, isCalled } of sequences) {
    if (!there.has(`${schema}.${name}`)) continue;
    await client.query('SELECT setval($1::regclass, $2::bigint, $3)', [
      toName(client, { schema, name }),
      value,
      isCalled,
    ]);
  }
}

/** @param {AsyncIterable<Uint8Array>} bytes */
async function readAll(bytes) {
  const parts = [];
  for await (const part of bytes) parts.push(part);
  return Buffer.concat(parts);
}
