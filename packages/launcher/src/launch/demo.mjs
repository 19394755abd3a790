import fs from 'node:fs';
import path from 'node:path';
import { withConnection } from '../database/connection.mjs';
import { loadDemo } from '../demo-seed.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { toTypablePassword } from '../support/password.mjs';
import { getOrCreateSecret } from '../support/secret-file.mjs';

/** @typedef {{ logins: import('../demo-seed.mjs').DemoLogin[], password: string }} Demo */

/**
 * Loads the invented organisation into an empty database, once, and says how to sign in.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.appUrl
 * @param {string} input.gateUrl
 * @param {string} input.dataDir keeps the password and the list of logins
 * @param {string} [input.demoPassword] used when the demo is loaded; made up when absent
 * @param {(text: string) => void} tell
 * @returns {Promise<Demo | null>} null when this database has organisations that this folder did not load
 * @throws {PlainError} when an earlier start was interrupted while it loaded
 */
export async function ensureDemo({ ownerUrl, appUrl, gateUrl, dataDir, demoPassword }, tell) {
  const loginsFile = path.join(dataDir, 'demo-logins.json');
  const passwordFile = path.join(dataDir, 'demo-password');
  if (await hasOrganisation(ownerUrl)) {
    if (isHalfLoaded(dataDir)) {
      throw new PlainError(
        'The demo was interrupted while it loaded into this database, and is there in part.',
        `Empty the database (drop it and create it again), remove ${markOf(dataDir)} and start again.`,
      );
    }
    if (!fs.existsSync(loginsFile)) return null;
    return { logins: JSON.parse(fs.readFileSync(loginsFile, 'utf8')), password: getOrCreateSecret(passwordFile) };
  }
  // An empty database beside old files: they belong to a database that is gone.
  if (demoPassword !== undefined) fs.rmSync(passwordFile, { force: true });
  const password = getOrCreateSecret(passwordFile, () => demoPassword ?? toTypablePassword());
  tell('loading the demo');
  fs.writeFileSync(markOf(dataDir), '');
  const { logins } = await loadDemo({ ownerUrl, appUrl, gateUrl, password });
  fs.writeFileSync(loginsFile, JSON.stringify(logins), { mode: 0o600 });
  clearHalfLoaded(dataDir);
  return { logins, password };
}

/**
 * Whether an earlier start ended while it loaded the demo.
 * @param {string} dataDir
 */
export function isHalfLoaded(dataDir) {
  return fs.existsSync(markOf(dataDir));
}

/** @param {string} dataDir */
export function clearHalfLoaded(dataDir) {
  fs.rmSync(markOf(dataDir), { force: true });
}

/** @param {string} dataDir */
function markOf(dataDir) {
  return path.join(dataDir, 'demo-loading');
}

/**
 * @param {string} ownerUrl
 * @returns {Promise<boolean>}
 */
export async function hasOrganisation(ownerUrl) {
  const { rows } = await withConnection(ownerUrl, (client) =>
    client.query('SELECT EXISTS (SELECT 1 FROM memberships) AS is_there'),
  );
  return rows[0].is_there;
}
