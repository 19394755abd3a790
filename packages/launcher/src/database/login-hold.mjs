import { createHash, createHmac, pbkdf2Sync } from 'node:crypto';
import { setTimeout as delay } from 'node:timers/promises';
import pg from 'pg';
import { PlainError } from '../support/plain-error.mjs';
import { parseUrlParts, toConnectionError } from './connection.mjs';

/** @typedef {import('pg').Client} Client */

/** Under this name the hold stands among the server's sessions: who sets up roles ends it by that, and it comes back. */
const HOLD = 'kedge: holds passwords and settings of logins';
const AGAIN_MS = 1_000;
/** A login that began to change itself before the hold, and keeps its transaction open, is ended after this. */
const PATIENCE_MS = 2_000;
/** SQLSTATE lock_not_available. */
const LOCK_NOT_AVAILABLE = '55P03';

/**
 * @typedef {object} HoldInput
 * @property {string} superuserUrl
 * @property {string[]} loginUrls with the passwords that the logins should have
 * @property {() => Promise<unknown>} putBack makes roles and passwords what they should be
 * @property {(text: string) => void} tell
 */

/**
 * PostgreSQL lets every login set its own password and its own defaults: whoever got hold of one could lock the product out, or give
 * every later connection a setting of theirs. No privilege takes that away; a lock does. As long as one session holds both catalogs
 * in SHARE mode, everybody reads them, and whoever would write to them waits. What was changed before is put back first.
 * @param {HoldInput} input
 * @returns {Promise<{ stop: () => Promise<void> }>} once it holds; it begins anew whenever its session ends
 * @throws {PlainError} when the server cannot be reached at the beginning
 */
export async function holdLogins(input) {
  let hold = await beginHold(input);
  const stopping = new AbortController();
  const again = async () => {
    while (!stopping.signal.aborted) {
      await hold.ended;
      // Aborted: it ends at once.
      await delay(AGAIN_MS, undefined, { ref: false, signal: stopping.signal }).catch(() => undefined);
      if (stopping.signal.aborted) return;
      try {
        hold = await beginHold(input);
      } catch (error) {
        // A database that does not answer is told of by whoever starts it again.
        if (!(error instanceof PlainError))
          input.tell(`the logins of the database could not be held: ${String(error)}`);
      }
    }
  };
  const keeping = again();
  return {
    stop: async () => {
      stopping.abort();
      await hold.end();
      await keeping;
      await hold.end();
    },
  };
}

/**
 * Ends whatever hold there is, so that roles can be set up.
 * @param {Client} client of a superuser
 */
export async function endHolds(client) {
  await client.query(
    `SELECT pg_terminate_backend(a.pid, ${AGAIN_MS}) FROM pg_stat_activity a JOIN pg_locks l ON l.pid = a.pid
     WHERE a.application_name = $1 AND l.relation = 'pg_authid'::regclass AND l.mode = 'ShareLock' AND l.granted`,
    [HOLD],
  );
}

/**
 * @param {HoldInput} input
 * @returns {Promise<{ ended: Promise<void>, end: () => Promise<void> }>}
 */
async function beginHold({ superuserUrl, loginUrls, putBack, tell }) {
  const client = new pg.Client({
    connectionString: superuserUrl,
    application_name: HOLD,
    connectionTimeoutMillis: 15_000,
    keepAlive: true,
  });
  /** @type {Promise<void>} */
  const ended = new Promise((resolve) => {
    client.on('end', resolve);
    // Without a listener a connection that breaks would end the process; `end` follows.
    client.on('error', () => undefined);
  });
  try {
    await client.connect();
  } catch (error) {
    throw toConnectionError(superuserUrl, error);
  }
  try {
    await client.query(`SET lock_timeout = ${PATIENCE_MS}; SET idle_in_transaction_session_timeout = 0`);
    for (;;) {
      if (!(await lockCatalogs(client, loginUrls))) continue;
      const changed = await findChanged(client, loginUrls);
      if (changed.length === 0) return { ended, end: () => client.end() };
      await client.query('ROLLBACK');
      await putBack();
      tell(`password or settings of ${changed.join(', ')} had been changed inside the database; they are put back`);
    }
  } catch (error) {
    await client.end();
    throw error;
  }
}

/**
 * @param {Client} client
 * @param {string[]} loginUrls
 * @returns {Promise<boolean>} false when a login was in the way; it is ended then
 */
async function lockCatalogs(client, loginUrls) {
  await client.query('BEGIN');
  try {
    await client.query('LOCK TABLE pg_authid, pg_db_role_setting IN SHARE MODE');
    return true;
  } catch (error) {
    if (!(error instanceof pg.DatabaseError) || error.code !== LOCK_NOT_AVAILABLE) throw error;
    await client.query('ROLLBACK');
    await client.query(
      `SELECT pg_terminate_backend(l.pid) FROM pg_locks l JOIN pg_stat_activity a ON a.pid = l.pid
       WHERE l.relation IN ('pg_authid'::regclass, 'pg_db_role_setting'::regclass) AND l.mode = 'RowExclusiveLock' AND l.granted
         AND a.usename = ANY ($1)`,
      [loginUrls.map((url) => parseUrlParts(url).user)],
    );
    return false;
  }
}

/**
 * @param {Client} client
 * @param {string[]} loginUrls
 * @returns {Promise<string[]>}
 */
async function findChanged(client, loginUrls) {
  const names = loginUrls.map((url) => client.escapeLiteral(parseUrlParts(url).user));
  // Not as a parameter: what a parameter is bound to keeps its snapshot, and with it dead rows, as long as the hold lasts.
  const { rows } = await client.query(
    `SELECT r.rolname AS login, r.rolpassword AS stored,
       EXISTS (SELECT 1 FROM pg_db_role_setting s WHERE s.setrole = r.oid) AS has_settings
     FROM pg_authid r WHERE r.rolname IN (${names.join(', ')})`,
  );
  const passwords = new Map(loginUrls.map((url) => [parseUrlParts(url).user, parseUrlParts(url).password]));
  return rows
    .filter(({ login, stored, has_settings: hasSettings }) => hasSettings || !isOf(stored, passwords.get(login) ?? ''))
    .map(({ login }) => String(login));
}

/**
 * Whether PostgreSQL's stored form (`SCRAM-SHA-256$<iterations>:<salt>$<stored key>:<server key>`, keys after RFC 5802) is that of a
 * password of plain letters and digits.
 * @param {string | null} stored
 * @param {string} password
 */
function isOf(stored, password) {
  const [, iterations, salt, key] = /^SCRAM-SHA-256\$(\d+):([^$]+)\$([^:]+):/.exec(stored ?? '') ?? [];
  if (iterations === undefined || salt === undefined) return false;
  const salted = pbkdf2Sync(password, Buffer.from(salt, 'base64'), Number(iterations), 32, 'sha256');
  const clientKey = createHmac('sha256', salted).update('Client Key').digest();
  return createHash('sha256').update(clientKey).digest('base64') === key;
}
