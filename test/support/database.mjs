import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { bringUpToDate } from '@repo/launcher/bring-up-to-date';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { loadDemo } from '@repo/launcher/demo';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { ensureRoles, openDatabase, toLoginUrls } from '@repo/launcher/roles';
import { guardDatabase } from './database-guard.mjs';

/** @typedef {import('@repo/launcher/roles').LoginUrls} LoginUrls */
/** @typedef {LoginUrls & { name: string, superuserUrl: string, drop: () => Promise<void> }} TestDatabase */

/** Carries the server's address from Jest's global set-up to its workers. */
const SERVER_VARIABLE = 'TEST_DATABASE_SUPERUSER_URL';
const TEMPLATE = 'kedge_template';
const DEMO_TEMPLATE = 'kedge_demo_template';
/** Whoever needs the demonstration first makes its template; the others wait for it. */
const DEMO_LOCK = 4803;

/** Of every person that a test signs in. */
export const PASSWORD = 'a long test password 1';

/** A server that may lose everything on a power cut: it lives for one test run. */
const THROW_AWAY_SETTINGS = {
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
  // Nobody copies this server, and none of its files grows old: it keeps as little of a log as it can, and no second reader
  // of tables comes in between; what a test needs counted it analyses itself.
  wal_level: 'minimal',
  max_wal_senders: 0,
  max_wal_size: '4GB',
  checkpoint_timeout: '1h',
  autovacuum: 'off',
  max_connections: 200,
  // Counts buffers per statement, for tests of what a page costs.
  shared_preload_libraries: 'pg_stat_statements',
};

/**
 * Starts a throw-away PostgreSQL server in a temporary folder and migrates a template database once.
 * The server is stopped and its folder removed by a process of its own as soon as this one ends, however it ends.
 * @returns {Promise<{ superuserUrl: string, stop: () => Promise<void> }>}
 */
export async function startTestDatabase() {
  const dataDir = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-test-'));
  // mkdtemp makes the folder private; under root the server runs as another user, who must get in.
  fs.chmodSync(dataDir, 0o711);
  const sockets = path.join(dataDir, 'sockets');
  fs.mkdirSync(sockets);
  fs.chmodSync(sockets, 0o777);
  const guard = guardDatabase(dataDir);
  try {
    const settings = { ...THROW_AWAY_SETTINGS, unix_socket_directories: sockets };
    const server = await startEmbeddedPostgres({ dataDir, settings });
    const superuserUrl = toSocketUrl(server.url, sockets);
    const { ownerUrl } = await ensureRoles({ superuserUrl, database: TEMPLATE });
    await bringUpToDate({ ownerUrl });
    process.env[SERVER_VARIABLE] = superuserUrl;
    return { superuserUrl, stop: guard.release };
  } catch (error) {
    await guard.release();
    throw error;
  }
}

/**
 * The same server by its socket: what goes back and forth takes a good deal less of both processors than by way of the network.
 * @param {string} url
 * @param {string} folder
 */
function toSocketUrl(url, folder) {
  // Where there are no such sockets for Node, as on Windows, it stays the network.
  if (process.platform === 'win32') return url;
  const changed = new URL(url);
  changed.searchParams.set('host', folder);
  return changed.href;
}

/**
 * A database of its own for one test file: a copy of the migrated template, empty of rows.
 * @returns {Promise<TestDatabase>}
 */
export function createDatabase() {
  return createFrom(`TEMPLATE ${TEMPLATE} STRATEGY file_copy`);
}

/**
 * A database of its own with the demonstration in it: loaded once for each server, by whoever asks first, and copied from then on.
 * @returns {Promise<TestDatabase>}
 */
export async function createDemoDatabase() {
  await makeDemoTemplate();
  return createFrom(`TEMPLATE ${DEMO_TEMPLATE} STRATEGY file_copy`);
}

/** Loads the demonstration into a template, if nobody has. */
export async function makeDemoTemplate() {
  await withConnection(toServerUrl(), async (client) => {
    await client.query('SELECT pg_advisory_lock($1)', [DEMO_LOCK]);
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [DEMO_TEMPLATE]);
    if (rowCount !== 0) return;
    const made = await createDatabase();
    await loadDemo({ ...made, password: PASSWORD });
    await withConnection(made.superuserUrl, (own) => own.query('ANALYZE'));
    // Its name says that it is whole: nobody finds one that is half loaded.
    await client.query(`ALTER DATABASE ${made.name} RENAME TO ${DEMO_TEMPLATE}`);
  });
}

/**
 * A database with nothing in it, for what is about migrations.
 * @returns {Promise<TestDatabase>}
 */
export function createEmptyDatabase() {
  return createFrom('TEMPLATE template0');
}

/**
 * @param {string} origin
 * @returns {Promise<TestDatabase>}
 */
async function createFrom(origin) {
  const serverUrl = toServerUrl();
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  await withConnection(serverUrl, async (client) => {
    await client.query(`CREATE DATABASE ${name} OWNER kedge_owner ${origin}`);
    await openDatabase(client, name);
  });
  return {
    name,
    superuserUrl: withUrlParts(serverUrl, { database: name }),
    ...toLoginUrls(serverUrl, name),
    drop: () =>
      withConnection(serverUrl, async (client) => {
        await client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`);
      }),
  };
}

function toServerUrl() {
  const serverUrl = process.env[SERVER_VARIABLE];
  if (serverUrl === undefined) throw new Error('The test database is not running: startTestDatabase() comes first.');
  return serverUrl;
}
