import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { ROOT } from './paths.mjs';

const STAMPS = path.join(ROOT, 'node_modules', '.cache', 'kedge');
const SKIPPED = new Set(['node_modules', 'dist', '.next', '.turbo', 'generated', 'next-env.d.ts']);

/**
 * A fingerprint of files and folders by their content: a clone, a copy or a `touch` changes nothing.
 * @param {string[]} targets relative to the root; a missing one counts as empty
 * @param {string[]} [words] anything else the work depends on
 * @returns {string}
 */
export function toFingerprint(targets, words = []) {
  const hash = createHash('sha256').update(JSON.stringify([process.version, ...words]));
  for (const target of targets) addTo(hash, target);
  return hash.digest('hex');
}

/**
 * Does `work` unless it was done for the same fingerprint and its results are still there.
 * @param {object} input
 * @param {string} input.name
 * @param {string} input.fingerprint
 * @param {string[]} input.results files relative to the root that the work makes
 * @param {() => Promise<void>} input.work
 * @returns {Promise<boolean>} whether it was done now
 */
export async function doOnce({ name, fingerprint, results, work }) {
  const stamp = path.join(STAMPS, name);
  const hasResults = results.every((file) => fs.existsSync(path.join(ROOT, file)));
  if (hasResults && fs.existsSync(stamp) && fs.readFileSync(stamp, 'utf8') === fingerprint) return false;
  await work();
  fs.mkdirSync(STAMPS, { recursive: true });
  fs.writeFileSync(stamp, fingerprint);
  return true;
}

/**
 * @param {import('node:crypto').Hash} hash
 * @param {string} target
 */
function addTo(hash, target) {
  const file = path.join(ROOT, target);
  const stats = fs.statSync(file, { throwIfNoEntry: false });
  if (stats?.isDirectory()) {
    for (const name of fs.readdirSync(file).sort()) if (!SKIPPED.has(name)) addTo(hash, path.join(target, name));
  } else if (stats?.isFile()) {
    hash.update(`${target}\0${stats.size}\0`).update(fs.readFileSync(file));
  }
}
