import fs from 'node:fs';
import path from 'node:path';
import { abandonEmbeddedPostgres, startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { ensureGivenRoles } from '../given-roles.mjs';
import { lockDataFolder } from '../launch/instance-lock.mjs';
import { ensureRoles } from '../roles.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { load } from './load.mjs';

/** @typedef {import('../launch/options.mjs').Options} Options */

/**
 * Restores a backup into an empty place: the data folder of an embedded PostgreSQL, or a database of the user's.
 * @param {Options} options
 * @param {{ file: string, passphrase: string | null }} input
 * @throws {PlainError} the place is not empty, or the backup is not whole
 */
export async function restore({ dataDir, database }, input) {
  fs.mkdirSync(dataDir, { recursive: true, mode: 0o755 });
  const unlock = lockDataFolder(dataDir);
  try {
    let secret = '';
    const onSecret = (/** @type {string} */ text) => {
      assertSecretFits(dataDir, text);
      secret = text;
    };
    const work = async (/** @type {string} */ ownerUrl) => {
      const result = await load({ ...input, ownerUrl, onSecret });
      if (secret !== '') fs.writeFileSync(secretFile(dataDir), `${secret}\n`, { mode: 0o600 });
      return result;
    };
    if (database === undefined) return await loadEmbedded(dataDir, work);
    return await work((await ensureGivenRoles(database)).ownerUrl);
  } finally {
    unlock();
  }
}

/**
 * Loads into a server in a folder of its own, which gets the name that counts when all is done: an interrupted restore leaves
 * nothing that a start would take for a database.
 * @template T
 * @param {string} dataDir
 * @param {(ownerUrl: string) => Promise<T>} work
 * @returns {Promise<T>}
 */
async function loadEmbedded(dataDir, work) {
  const cluster = path.join(dataDir, 'postgres');
  if (fs.existsSync(cluster)) {
    throw new PlainError(
      `There is a database in ${dataDir} already. Nothing was changed.`,
      'Set DATA_DIR to an empty folder, or move that one away: nothing is ever restored over something else.',
    );
  }
  const draft = path.join(dataDir, 'restoring');
  await clearDraft(draft);
  try {
    const server = await startEmbeddedPostgres({ dataDir: draft });
    const { ownerUrl } = await ensureRoles({ superuserUrl: server.url });
    const result = await work(ownerUrl);
    await server.stop();
    fs.renameSync(path.join(draft, 'postgres-password'), path.join(dataDir, 'postgres-password'));
    fs.renameSync(path.join(draft, 'postgres'), cluster);
    return result;
  } finally {
    await clearDraft(draft);
  }
}

/**
 * What a restore left that was refused or interrupted, with the server that may still run on it.
 * @param {string} draft
 */
async function clearDraft(draft) {
  await abandonEmbeddedPostgres(draft);
  // A server that is being ended may still write for a moment.
  fs.rmSync(draft, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
}

/** @param {string} dataDir */
const secretFile = (dataDir) => path.join(dataDir, 'app-secret');

/**
 * @param {string} dataDir
 * @param {string} secret
 */
function assertSecretFits(dataDir, secret) {
  const file = secretFile(dataDir);
  if (!fs.existsSync(file) || fs.readFileSync(file, 'utf8').trim() === secret) return;
  throw new PlainError(
    `${file} holds another secret than the backup: what the backup has sealed could not be opened.`,
    'Move that file away, or set DATA_DIR to an empty folder. Nothing was restored.',
  );
}
