import { createHmac } from 'node:crypto';
import { assertServerVersion, parseUrlParts, withConnection, withUrlParts } from './database/connection.mjs';
import { endHolds } from './database/login-hold.mjs';
import { toLargeObjectRevoke } from './database/large-objects.mjs';
import {
  APP_ROLE,
  BACKUP_ROLE,
  GATE_ROLE,
  OWNER_ROLE,
  REQUEST_ROLES,
  ROLE_ATTRIBUTES,
} from './database/role-attributes.mjs';

/** @typedef {import('pg').Client} Client */

/**
 * @typedef {object} LoginUrls
 * @property {string} ownerUrl owns the schema: migrations, backups, nothing else
 * @property {string} appUrl what a request uses; sees nothing until it takes on a request role
 * @property {string} gateUrl sign-in, keys and sources
 * @property {string} backupUrl reads everything, row security or not
 */

export const DATABASE = 'kedge';

/** Two programs that set up one server at once would trip over each other's CREATE ROLE. */
const ROLES_LOCK = 4801;

/**
 * Makes roles and database on a server that is ours alone, and puts back whatever was changed about them.
 * Safe to run at every start.
 * @param {object} input
 * @param {string} input.superuserUrl
 * @param {string} [input.database]
 * @param {LoginUrls} [input.urls] with the passwords to set; derived from the superuser's password by default
 * @returns {Promise<LoginUrls>}
 */
export async function ensureRoles({ superuserUrl, database = DATABASE, urls = toLoginUrls(superuserUrl, database) }) {
  await withConnection(superuserUrl, async (client) => {
    await assertServerVersion(client);
    await inRolesTransaction(client, async () => {
      await endHolds(client);
      for (const [role, attributes] of ROLE_ATTRIBUTES) {
        if (!(await hasRole(client, role))) await client.query(`CREATE ROLE ${client.escapeIdentifier(role)}`);
        await client.query(`ALTER ROLE ${client.escapeIdentifier(role)} ${attributes}`);
        await resetSettings(client, role);
      }
      for (const url of Object.values(urls)) await setPassword(client, url);
      await client.query(`GRANT ${REQUEST_ROLES.join(', ')} TO ${APP_ROLE}`);
      await client.query(`GRANT pg_read_all_data TO ${BACKUP_ROLE}`);
      // The server's own databases are nobody's business but the superuser's.
      await client.query('REVOKE ALL ON DATABASE postgres, template1 FROM PUBLIC');
    });
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [database]);
    if (rowCount === 0) await client.query(`CREATE DATABASE ${client.escapeIdentifier(database)} OWNER ${OWNER_ROLE}`);
    await openDatabase(client, database);
  });
  await withConnection(withUrlParts(superuserUrl, { database }), async (client) => {
    await client.query('REVOKE ALL ON SCHEMA public FROM PUBLIC');
    const revoke = await toLargeObjectRevoke(client);
    if (revoke !== null) await client.query(revoke);
  });
  return urls;
}

/**
 * A login may give itself defaults (a search path, a time-out) that every later connection begins with.
 * @param {Client} client
 * @param {string} role
 */
async function resetSettings(client, role) {
  const { rows } = await client.query(
    `SELECT d.datname AS name FROM pg_db_role_setting s JOIN pg_roles r ON r.oid = s.setrole LEFT JOIN pg_database d ON d.oid = s.setdatabase
     WHERE r.rolname = $1`,
    [role],
  );
  for (const { name } of rows) {
    const place = name === null ? '' : `IN DATABASE ${client.escapeIdentifier(name)}`;
    await client.query(`ALTER ROLE ${client.escapeIdentifier(role)} ${place} RESET ALL`);
  }
}

/**
 * The logins' URLs on a server that `ensureRoles` has set up.
 * @param {string} superuserUrl
 * @param {string} database
 * @returns {LoginUrls}
 */
export function toLoginUrls(superuserUrl, database) {
  const secret = parseUrlParts(superuserUrl).password;
  /** @param {string} user */
  const urlOf = (user) => withUrlParts(superuserUrl, { user, password: toLoginPassword(secret, user), database });
  return {
    ownerUrl: urlOf(OWNER_ROLE),
    appUrl: urlOf(APP_ROLE),
    gateUrl: urlOf(GATE_ROLE),
    backupUrl: urlOf(BACKUP_ROLE),
  };
}

/**
 * Lets our logins connect to a database and takes from PUBLIC what PostgreSQL gives it unasked.
 * What a login may do inside is granted by the migration that makes each table.
 * @param {Client} client
 * @param {string} database
 */
export async function openDatabase(client, database) {
  const name = client.escapeIdentifier(database);
  await client.query(`REVOKE ALL ON DATABASE ${name} FROM PUBLIC`);
  await client.query(`GRANT CONNECT ON DATABASE ${name} TO ${APP_ROLE}, ${GATE_ROLE}, ${BACKUP_ROLE}`);
}

/**
 * The password of a login, derived from a secret that is kept anyway: nothing more to store, nothing more to lose.
 * @param {string} secret
 * @param {string} role
 * @returns {string}
 */
export function toLoginPassword(secret, role) {
  return createHmac('sha256', secret).update(`database login ${role}`).digest('base64url');
}

/**
 * Runs `work` in a transaction that no other set-up shares.
 * @param {Client} client
 * @param {() => Promise<void>} work
 */
export async function inRolesTransaction(client, work) {
  await client.query('BEGIN');
  try {
    await client.query('SELECT pg_advisory_xact_lock($1)', [ROLES_LOCK]);
    await work();
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  }
}

/**
 * @param {Client} client
 * @param {string} role
 * @returns {Promise<boolean>}
 */
export async function hasRole(client, role) {
  const { rowCount } = await client.query('SELECT 1 FROM pg_roles WHERE rolname = $1', [role]);
  return rowCount === 1;
}

/**
 * Sets the password of the login in the URL to the one in the URL.
 * @param {Client} client
 * @param {string} url
 */
export async function setPassword(client, url) {
  const { user, password } = parseUrlParts(url);
  await client.query(`ALTER ROLE ${client.escapeIdentifier(user)} PASSWORD ${client.escapeLiteral(password)}`);
}
