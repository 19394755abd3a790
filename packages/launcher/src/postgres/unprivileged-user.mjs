import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../support/plain-error.mjs';

/**
 * @typedef {object} ServerUser
 * @property {string} name
 * @property {number} [uid] absent: the user who runs this program
 * @property {number} [gid]
 */

/**
 * The user PostgreSQL runs as. It refuses to run as root, so root hands it to whoever owns the database already, else to
 * `postgres`, else to `nobody`.
 * @param {string} cluster data folder of the server, there or not
 * @returns {ServerUser}
 * @throws {PlainError} root finds no such user, or the database belongs to somebody else
 */
export function findServerUser(cluster) {
  const owner = fs.statSync(cluster, { throwIfNoEntry: false });
  const me = process.getuid?.();
  if (me === undefined) return { name: 'this user' };
  if (me !== 0) {
    if (owner !== undefined && owner.uid !== me) {
      throw new PlainError(
        `The database in ${cluster} belongs to another user (number ${owner.uid}): it was first started as root or by them.`,
        'Start as that user or as root, or set DATA_DIR to a folder of your own.',
      );
    }
    return { name: 'this user' };
  }
  if (owner !== undefined && owner.uid !== 0) return { name: `number ${owner.uid}`, uid: owner.uid, gid: owner.gid };
  for (const name of ['postgres', 'nobody']) {
    const ids = findIds(name);
    if (ids) return { name, ...ids };
  }
  throw new PlainError(
    'PostgreSQL refuses to run as root, and this machine has neither a user "postgres" nor a user "nobody".',
    'Create one ("useradd --system postgres") or start as an ordinary user.',
  );
}

/**
 * The first folder on the way to `target` that the user cannot enter; null when the way is free.
 * Asked of the kernel, as that user: permission bits alone miss access lists and mount options.
 * @param {string} target absolute path of a folder
 * @param {ServerUser} user
 * @returns {string | null}
 */
export function findClosedFolder(target, user) {
  if (user.uid === undefined) return null;
  const steps = [target];
  for (let folder = target; folder !== path.dirname(folder); folder = path.dirname(folder)) {
    steps.unshift(path.dirname(folder));
  }
  const script = 'for folder in "$@"; do [ -x "$folder" ] || { printf %s "$folder"; exit 0; }; done';
  const { uid, gid } = user;
  const result = spawnSync('/bin/sh', ['-c', script, 'sh', ...steps], { uid, gid, cwd: '/', encoding: 'utf8' });
  if (result.error) throw result.error;
  return result.stdout === '' ? null : result.stdout;
}

/**
 * @param {string} name
 * @returns {{ uid: number, gid: number } | null}
 */
function findIds(name) {
  try {
    const [uid, gid] = ['-u', '-g'].map((flag) =>
      Number(execFileSync('id', [flag, name], { stdio: ['ignore', 'pipe', 'ignore'] })),
    );
    return uid === undefined || gid === undefined ? null : { uid, gid };
  } catch (error) {
    // `id` answers 1 for a user that does not exist; anything else (no `id` at all) is worth seeing.
    if (error instanceof Error && 'status' in error && error.status === 1) return null;
    throw error;
  }
}
