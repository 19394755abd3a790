import { assertServerVersion, parseUrlParts, withConnection, withUrlParts } from './database/connection.mjs';
import { toLargeObjectRevoke } from './database/large-objects.mjs';
import { APP_ROLE, BACKUP_ROLE, GATE_ROLE, REQUEST_ROLES, ROLE_ATTRIBUTES } from './database/role-attributes.mjs';
import { hasRole, inRolesTransaction, setPassword, toLoginPassword } from './roles.mjs';
import { errorCode, PlainError } from './support/plain-error.mjs';

/** @typedef {import('pg').Client} Client */
/** @typedef {{ ownerUrl: string, appUrl: string, gateUrl: string, notes: string[] }} GivenLogins */

/** SQLSTATE insufficient_privilege. */
const INSUFFICIENT_PRIVILEGE = '42501';

/**
 * Makes what is missing of the roles on a server that belongs to the user. The owner login is the user's own; an ordinary
 * role with CREATEROLE that owns the database is enough. A login that exists keeps its password, but for the gate's,
 * which is derived from the owner's unless it is given.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.appUrl
 * @param {string} [input.gateUrl]
 * @returns {Promise<GivenLogins>}
 * @throws {PlainError} server too old, a role missing that may not be made, or a login with more rights than it may have
 */
export async function ensureGivenRoles({ ownerUrl, appUrl, gateUrl }) {
  const gateLogin = gateUrl ?? toGateUrl(ownerUrl);
  /** @type {string[]} */
  const notes = [];
  await withConnection(ownerUrl, async (client) => {
    await assertServerVersion(client);
    await assertOwnsDatabase(client);
    await inRolesTransaction(client, async () => {
      for (const role of REQUEST_ROLES) await ensureRole(client, role);
      await ensureAppLogin(client, appUrl);
      // The migrations name these two, whatever login DATABASE_URL has.
      for (const role of [APP_ROLE, GATE_ROLE]) await ensureRole(client, role);
      if (gateUrl === undefined) await setGatePassword(client, gateLogin);
      notes.push(...(await ensureBackupRole(client)));
      await grantConnect(client, [parseUrlParts(appUrl).user, GATE_ROLE, BACKUP_ROLE]);
    });
    notes.push(...(await readSuperuserWishes(client, parseUrlParts(appUrl).user)));
  });
  await assertPlainLogin(appUrl, 'DATABASE_URL');
  await assertPlainLogin(gateLogin, 'DATABASE_GATE_URL');
  return { ownerUrl, appUrl, gateUrl: gateLogin, notes };
}

/**
 * @param {string} ownerUrl
 * @returns {string}
 */
function toGateUrl(ownerUrl) {
  const password = toLoginPassword(parseUrlParts(ownerUrl).password, GATE_ROLE);
  return withUrlParts(ownerUrl, { user: GATE_ROLE, password });
}

/** @param {Client} client */
async function assertOwnsDatabase(client) {
  const { rows } = await client.query(
    `SELECT current_user AS login, current_database() AS database, pg_has_role(nspowner, 'USAGE') AS is_owner
     FROM pg_namespace WHERE nspname = 'public'`,
  );
  if (rows[0]?.is_owner) return;
  const { login, database } = (await client.query('SELECT current_user AS login, current_database() AS database'))
    .rows[0];
  throw new PlainError(
    `The login "${login}" of DATABASE_OWNER_URL does not own the database "${database}".`,
    `Run as a superuser: ALTER DATABASE ${client.escapeIdentifier(database)} OWNER TO ${client.escapeIdentifier(login)};`,
  );
}

/**
 * @param {Client} client
 * @param {string} role
 * @param {string} [kind] whose attributes it gets
 * @returns {Promise<boolean>} whether it was made now
 */
async function ensureRole(client, role, kind = role) {
  if (await hasRole(client, role)) return false;
  await runOrExplain(client, `CREATE ROLE ${client.escapeIdentifier(role)} ${ROLE_ATTRIBUTES.get(kind)}`);
  return true;
}

/**
 * The login that requests use: made with the password of its URL when missing, and a member of the request roles.
 * @param {Client} client
 * @param {string} appUrl
 */
async function ensureAppLogin(client, appUrl) {
  const { user } = parseUrlParts(appUrl);
  if (await ensureRole(client, user, APP_ROLE)) await setPassword(client, appUrl);
  for (const role of REQUEST_ROLES) {
    const { rows } = await client.query("SELECT pg_has_role($1, $2, 'MEMBER') AS is_member", [user, role]);
    if (!rows[0].is_member) await runOrExplain(client, `GRANT ${role} TO ${client.escapeIdentifier(user)}`);
  }
}

/**
 * On a server where not everybody may connect to every database.
 * @param {Client} client
 * @param {string[]} logins
 */
async function grantConnect(client, logins) {
  const { rows } = await client.query('SELECT current_database() AS name');
  const grantees = logins.map((login) => client.escapeIdentifier(login)).join(', ');
  const database = client.escapeIdentifier(rows[0].name);
  await runOrExplain(client, `GRANT CONNECT ON DATABASE ${database} TO ${grantees}`);
  // A temporary table is under no policy. Of one who owns the schema and not the database PostgreSQL only warns.
  await runOrExplain(client, `REVOKE TEMPORARY ON DATABASE ${database} FROM PUBLIC`);
}

/**
 * What only a superuser can take from the login of the requests, asked for at every start until it is done.
 * @param {Client} client
 * @param {string} login
 * @returns {Promise<string[]>}
 */
async function readSuperuserWishes(client, login) {
  const wishes = [];
  const { rows } = await client.query(
    `SELECT has_database_privilege($1, current_database(), 'TEMPORARY') AS may, current_database() AS name`,
    [login],
  );
  if (rows[0].may) wishes.push(`REVOKE TEMPORARY ON DATABASE ${client.escapeIdentifier(rows[0].name)} FROM PUBLIC`);
  const revoke = await toLargeObjectRevoke(client);
  if (revoke !== null) wishes.push(revoke);
  return wishes.map(
    (statement) => `run in this database as a superuser, so that its logins can leave nothing behind: ${statement};`,
  );
}

/**
 * @param {Client} client
 * @param {string} gateUrl
 */
async function setGatePassword(client, gateUrl) {
  try {
    await setPassword(client, gateUrl);
  } catch (error) {
    if (errorCode(error) !== INSUFFICIENT_PRIVILEGE) throw error;
    throw new PlainError(
      `The login of DATABASE_OWNER_URL may not set the password of ${GATE_ROLE}.`,
      `Give that login a password yourself and say it: DATABASE_GATE_URL=${withUrlParts(gateUrl, { password: 'PASSWORD' })}`,
      error,
    );
  }
}

/**
 * Only a superuser can let a login read past row security: without one the rest works, and backups have to wait.
 * @param {Client} client
 * @returns {Promise<string[]>} sentences for the user
 */
async function ensureBackupRole(client) {
  if (await hasRole(client, BACKUP_ROLE)) return [];
  await client.query('SAVEPOINT backup_role');
  try {
    await client.query(`CREATE ROLE ${BACKUP_ROLE} ${ROLE_ATTRIBUTES.get(BACKUP_ROLE)}`);
    return [];
  } catch (error) {
    if (errorCode(error) !== INSUFFICIENT_PRIVILEGE) throw error;
    await client.query('ROLLBACK TO SAVEPOINT backup_role');
    await ensureRole(client, BACKUP_ROLE, GATE_ROLE);
    return [`before the first backup, run as a superuser: ALTER ROLE ${BACKUP_ROLE} INHERIT BYPASSRLS;`];
  }
}

/**
 * Runs a statement about roles, or tells the user to have it run.
 * @param {Client} client
 * @param {string} statement
 */
async function runOrExplain(client, statement) {
  try {
    await client.query(statement);
  } catch (error) {
    if (errorCode(error) !== INSUFFICIENT_PRIVILEGE) throw error;
    throw new PlainError(
      'The login of DATABASE_OWNER_URL may not make the roles that are missing.',
      `Run as a superuser: ${statement}; (or give that login the right to: ALTER ROLE … CREATEROLE), then start again.`,
      error,
    );
  }
}

/**
 * @param {string} url
 * @param {string} variable
 * @throws {PlainError} when it cannot log in, or row security would not hold for it
 */
async function assertPlainLogin(url, variable) {
  const { rows } = await withConnection(url, (client) =>
    client.query(
      'SELECT rolname, rolsuper OR rolbypassrls AS is_privileged FROM pg_roles WHERE rolname = current_user',
    ),
  );
  if (!rows[0].is_privileged) return;
  throw new PlainError(
    `The login "${rows[0].rolname}" of ${variable} passes by row security: every customer would see every other.`,
    `Name a login that does not exist yet (it is made), or run: ALTER ROLE "${rows[0].rolname}" NOSUPERUSER NOBYPASSRLS;`,
  );
}
