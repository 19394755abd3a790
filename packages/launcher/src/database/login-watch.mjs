import { createHash, createHmac, pbkdf2Sync } from 'node:crypto';
import { PlainError } from '../support/plain-error.mjs';
import { parseUrlParts, withConnection } from './connection.mjs';

const LOOK_EVERY_MS = 10_000;

/**
 * PostgreSQL lets every login set its own password and its own defaults, and nothing can forbid it: whoever gets hold of one could
 * lock the product out, or give every later connection a setting of theirs. So it is looked at, and put back.
 * @param {object} input
 * @param {string} input.superuserUrl
 * @param {string[]} input.loginUrls with the passwords that the logins should have
 * @param {() => Promise<unknown>} input.putBack makes roles and passwords what they should be
 * @param {(text: string) => void} input.tell
 * @param {number} [input.everyMs]
 * @returns {{ stop: () => Promise<void> }}
 */
export function watchLogins({ superuserUrl, loginUrls, putBack, tell, everyMs = LOOK_EVERY_MS }) {
  const look = async () => {
    const changed = await withConnection(superuserUrl, (client) => findChanged(client, loginUrls));
    if (changed.length === 0) return;
    await putBack();
    tell(`password or settings of ${changed.join(', ')} had been changed inside the database; they are put back`);
  };
  let looking = Promise.resolve();
  const timer = setInterval(() => {
    looking = looking.then(look).catch((error) => {
      // A database that does not answer is told of by whoever starts it again; the next look finds what this one missed.
      if (!(error instanceof PlainError)) tell(`the logins of the database could not be looked at: ${error}`);
    });
  }, everyMs);
  timer.unref();
  return {
    stop: async () => {
      clearInterval(timer);
      await looking;
    },
  };
}

/**
 * @param {import('pg').Client} client
 * @param {string[]} loginUrls
 * @returns {Promise<string[]>}
 */
async function findChanged(client, loginUrls) {
  const { rows } = await client.query(
    `SELECT r.rolname AS login, r.rolpassword AS stored,
       EXISTS (SELECT 1 FROM pg_db_role_setting s WHERE s.setrole = r.oid) AS has_settings
     FROM pg_authid r WHERE r.rolname = ANY ($1)`,
    [loginUrls.map((url) => parseUrlParts(url).user)],
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
