import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { bringUpToDate } from '@repo/launcher/bring-up-to-date';
import { withConnection, withUrlParts } from '@repo/launcher/connection';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';
import { ensureRoles, openDatabase, toLoginUrls } from '@repo/launcher/roles';
import { guardDatabase } from './database-guard.mjs';

/** @typedef {import('@repo/launcher/roles').LoginUrls} LoginUrls */
/** @typedef {LoginUrls & { name: string, superuserUrl: string, drop: () => Promise<void> }} TestDatabase */

/** Carries the server's address from Jest's global set-up to its workers. */
const SERVER_VARIABLE = 'TEST_DATABASE_SUPERUSER_URL';
const TEMPLATE = 'kedge_template';

/** A server that may lose everything on a power cut: it lives for one test run. */
const THROW_AWAY_SETTINGS = {
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
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
  const guard = guardDatabase(dataDir);
  try {
    const server = await startEmbeddedPostgres({ dataDir, settings: THROW_AWAY_SETTINGS });
    const { ownerUrl } = await ensureRoles({ superuserUrl: server.url, database: TEMPLATE });
    await bringUpToDate({ ownerUrl });
    process.env[SERVER_VARIABLE] = server.url;
    return { superuserUrl: server.url, stop: guard.release };
  } catch (error) {
    await guard.release();
    throw error;
  }
}

/**
 * A database of its own for one test file: a copy of the migrated template, empty of rows.
 * @returns {Promise<TestDatabase>}
 */
export function createDatabase() {
  return createFrom(`TEMPLATE ${TEMPLATE} STRATEGY file_copy`);
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
  const serverUrl = process.env[SERVER_VARIABLE];
  if (serverUrl === undefined) throw new Error('The test database is not running: startTestDatabase() comes first.');
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
