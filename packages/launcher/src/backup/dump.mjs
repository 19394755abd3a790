/// <reference path="./streams.d.ts" />
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { to as copyTo } from 'pg-copy-streams';
import { withConnection } from '../database/connection.mjs';
import { ROOT } from '../support/paths.mjs';
import { listCountMonths, listSequences, listTables, readQueueVersion, toName } from './catalogue.mjs';
import { BEGIN, END, FORMAT, SECRET, toRowsName } from './format.mjs';
import { TarWriter } from './tar-writer.mjs';

/** @typedef {import('pg').Client} Client */

/** Rows are held in memory up to this size. */
const PART_BYTES = 1024 * 1024;

/**
 * @typedef {object} Dump
 * @property {AsyncIterable<Uint8Array>} bytes
 * @property {Promise<{ tables: number, rows: number }>} done
 * @property {() => Promise<void>} stop for a reader that has given up
 */

/**
 * So that the rows read the same wherever they are read back.
 * @type {string}
 */
export const READ_ALIKE = `
  SET LOCAL timezone = 'UTC'; SET LOCAL datestyle = 'ISO, YMD'; SET LOCAL intervalstyle = 'iso_8601';
  SET LOCAL bytea_output = 'hex'; SET LOCAL extra_float_digits = 1; SET LOCAL client_encoding = 'UTF8';
  SET LOCAL statement_timeout = 0; SET LOCAL idle_in_transaction_session_timeout = 0; SET LOCAL search_path = public`;

/**
 * The whole database at one moment, as a stream of a tar; others go on reading and writing meanwhile.
 * @param {object} input
 * @param {string} input.backupUrl login that reads everything, row security or not
 * @param {string | null} input.appSecret goes into the backup when given
 * @returns {Dump}
 */
export function dump({ backupUrl, appSecret }) {
  const writer = new TarWriter();
  const done = withConnection(backupUrl, async (client) => {
    const counts = await writeAll(client, writer, appSecret);
    writer.finish();
    return counts;
  });
  // Whoever reads the bytes hears of it there, and whoever waits for the end hears of it again.
  done.catch((error) => writer.fail(error));
  return {
    bytes: writer.bytes,
    done,
    stop: async () => {
      writer.fail(new Error('the backup was stopped'));
      await done.catch(() => undefined);
    },
  };
}

/**
 * @param {Client} client
 * @param {TarWriter} writer
 * @param {string | null} appSecret
 */
async function writeAll(client, writer, appSecret) {
  await client.query(`BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY; ${READ_ALIKE}`);
  const tables = await listTables(client);
  // Held as pg_dump holds them: no table goes or changes its form until the end; reading and writing are not in the way.
  if (tables.length > 0) {
    await client.query(`LOCK TABLE ${tables.map((table) => toName(client, table)).join(', ')} IN ACCESS SHARE MODE`);
  }
  await writer.json(BEGIN, await readBegin(client, tables));
  if (appSecret !== null) await writer.entry(SECRET, Buffer.from(appSecret));
  const written = [];
  for (const table of tables) written.push(await writeTable(client, writer, table));
  await writer.json(END, { tables: written, sequences: await listSequences(client) });
  await client.query('COMMIT');
  return { tables: written.length, rows: written.reduce((sum, { rows }) => sum + rows, 0) };
}

/**
 * @param {Client} client
 * @param {import('./format.mjs').BackedUpTable[]} tables
 * @returns {Promise<import('./format.mjs').Begin>}
 */
async function readBegin(client, tables) {
  const { rows: migrations } = await client.query(
    `SELECT migration_name AS name, checksum FROM _prisma_migrations
     WHERE rolled_back_at IS NULL AND finished_at IS NOT NULL ORDER BY migration_name`,
  );
  const { rows: server } = await client.query('SHOW server_version');
  return {
    format: FORMAT,
    product: readVersion(),
    server: server[0].server_version,
    madeAt: new Date().toISOString(),
    migrations,
    queue: await readQueueVersion(client),
    countMonths: await listCountMonths(client),
    tables,
  };
}

/** @returns {string} */
function readVersion() {
  return JSON.parse(fs.readFileSync(path.join(ROOT, 'package.json'), 'utf8')).version;
}

/**
 * @param {Client} client
 * @param {TarWriter} writer
 * @param {import('./format.mjs').BackedUpTable} table
 */
async function writeTable(client, writer, table) {
  const columns = table.columns.map((column) => client.escapeIdentifier(column)).join(', ');
  const stream = client.query(copyTo(`COPY ${toName(client, table)} (${columns}) TO STDOUT`));
  const hash = createHash('sha256');
  /** @type {Buffer[]} */
  let waiting = [];
  let size = 0;
  let part = 0;
  const flush = async () => {
    part += 1;
    await writer.entry(toRowsName(table, part), Buffer.concat(waiting));
    waiting = [];
    size = 0;
  };
  for await (const chunk of stream) {
    hash.update(chunk);
    waiting.push(chunk);
    size += chunk.length;
    if (size >= PART_BYTES) await flush();
  }
  if (size > 0) await flush();
  return { table: `${table.schema}.${table.name}`, rows: stream.rowCount, sha256: hash.digest('hex') };
}
