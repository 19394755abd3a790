import { execFile } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import { PlainError } from '../support/plain-error.mjs';

/** @typedef {import('./binaries.mjs').PostgresBinaries} PostgresBinaries */
/** @typedef {import('./unprivileged-user.mjs').ServerUser} ServerUser */

export const SUPERUSER = 'postgres';

/**
 * Creates the data folder of a PostgreSQL server unless it is there. Made under another name and renamed when it is
 * whole, so an interrupted first start is simply started over.
 * @param {object} input
 * @param {string} input.cluster data folder
 * @param {string} input.password of the superuser
 * @param {PostgresBinaries} input.binaries
 * @param {ServerUser} input.user
 * @param {boolean} input.isDurable false: a power cut may destroy it
 * @returns {Promise<boolean>} whether it was created now
 */
export async function createCluster({ cluster, password, binaries, user, isDurable }) {
  if (fs.existsSync(path.join(cluster, 'PG_VERSION'))) return false;
  const draft = `${cluster}.new`;
  const passwordFile = `${cluster}.password`;
  fs.rmSync(draft, { recursive: true, force: true });
  fs.mkdirSync(draft, { mode: 0o700 });
  fs.writeFileSync(passwordFile, `${password}\n`, { mode: 0o600 });
  giveTo(user, draft);
  giveTo(user, passwordFile);
  try {
    const options = [
      ...['-D', draft, '-U', SUPERUSER, '-A', 'scram-sha-256', '--pwfile', passwordFile, '-E', 'UTF8'],
      ...['--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--data-checksums'],
      ...(isDurable ? [] : ['--no-sync']),
    ];
    await promisify(execFile)(binaries.initdb, options, serverProcess(user, path.dirname(cluster)));
  } catch (error) {
    throw toClusterError(error, cluster);
  } finally {
    fs.rmSync(passwordFile, { force: true });
  }
  fs.renameSync(draft, cluster);
  return true;
}

/**
 * Spawn options under which PostgreSQL's programs run.
 * @param {ServerUser} user
 * @param {string} cwd a folder the user can enter
 */
export function serverProcess(user, cwd) {
  const { uid, gid } = user;
  return { uid, gid, cwd, env: { ...process.env, LC_ALL: 'C', TZ: 'UTC' } };
}

/**
 * Hands a file or folder to the user PostgreSQL runs as.
 * @param {ServerUser} user
 * @param {string} target
 */
export function giveTo(user, target) {
  if (user.uid !== undefined && user.gid !== undefined) fs.chownSync(target, user.uid, user.gid);
}

/**
 * @param {unknown} error
 * @param {string} folder
 * @returns {unknown}
 */
export function toClusterError(error, folder) {
  const text = error instanceof Error ? `${error.message}\n${'stderr' in error ? error.stderr : ''}` : String(error);
  if (!/No space left on device|ENOSPC/.test(text)) return error;
  return new PlainError(
    `The disk that holds ${folder} is full.`,
    'Free some space (a new database needs about 200 MB), or set DATA_DIR to a folder on another disk.',
    error,
  );
}
