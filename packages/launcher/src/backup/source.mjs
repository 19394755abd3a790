import fs from 'node:fs';
import path from 'node:path';
import { BACKUP_ROLE } from '../database/role-attributes.mjs';
import { parseUrlParts, withConnection, withUrlParts } from '../database/connection.mjs';
import { startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { DATABASE, setPassword, toLoginPassword, toLoginUrls } from '../roles.mjs';
import { errorCode, PlainError } from '../support/plain-error.mjs';

/** @typedef {import('../launch/options.mjs').Options} Options */

const INSUFFICIENT_PRIVILEGE = '42501';
const NO_SUCH_ROLE = '42704';

/**
 * The login that reads everything, beside a launcher that may or may not be running.
 * @param {Options} options
 * @returns {Promise<{ backupUrl: string, close: () => Promise<void> }>} `close` stops the server only if this started it
 */
export async function openSource({ dataDir, database }) {
  if (database !== undefined) {
    const backupUrl = database.backupUrl ?? (await openBackupLogin(database.ownerUrl));
    await withConnection(backupUrl, assertReadsAll);
    return { backupUrl, close: async () => undefined };
  }
  if (!fs.existsSync(path.join(dataDir, 'postgres'))) {
    throw new PlainError(
      `There is no database in ${dataDir}.`,
      'Set DATA_DIR to the folder that "npm start" uses, or DATABASE_OWNER_URL and DATABASE_URL to a server of yours.',
    );
  }
  const server = await startEmbeddedPostgres({ dataDir });
  const { backupUrl } = toLoginUrls(server.url, DATABASE);
  return { backupUrl, close: server.isAdopted ? async () => undefined : server.stop };
}

/**
 * On a server of the user's the backup's login has the password derived from the owner's, like the gate's.
 * @param {string} ownerUrl
 */
async function openBackupLogin(ownerUrl) {
  const password = toLoginPassword(parseUrlParts(ownerUrl).password, BACKUP_ROLE);
  const backupUrl = withUrlParts(ownerUrl, { user: BACKUP_ROLE, password });
  try {
    await withConnection(ownerUrl, (client) => setPassword(client, backupUrl));
  } catch (error) {
    if (![INSUFFICIENT_PRIVILEGE, NO_SUCH_ROLE].includes(errorCode(error))) throw error;
    throw new PlainError(
      `The login of DATABASE_OWNER_URL may not set the password of ${BACKUP_ROLE}.`,
      `Give that login a password yourself and say it: DATABASE_BACKUP_URL=${withUrlParts(backupUrl, { password: 'PASSWORD' })}`,
      error,
    );
  }
  return backupUrl;
}

/**
 * Without this right a backup would be empty, and every chain of nothing would hold.
 * @param {import('pg').Client} client
 */
async function assertReadsAll(client) {
  const { rows } = await client.query(
    'SELECT rolname AS login, rolsuper OR rolbypassrls AS reads_all FROM pg_roles WHERE rolname = current_user',
  );
  if (rows[0].reads_all) return;
  const login = client.escapeIdentifier(rows[0].login);
  throw new PlainError(
    `The login ${login} is held back by row security: it would find nothing.`,
    `Run as a superuser, once: ALTER ROLE ${login} INHERIT BYPASSRLS;`,
  );
}
