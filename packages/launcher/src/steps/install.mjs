import fs from 'node:fs';
import path from 'node:path';
import { ROOT } from '../support/paths.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { runNpm } from '../support/run.mjs';

/** @typedef {Record<string, { version?: string, dev?: boolean, optional?: boolean, devOptional?: boolean, peer?: boolean }>} Packages */

/**
 * Installs the packages that the lock file names, unless they are there: by a look at npm's own list, so an install by
 * hand counts and an interrupted one (npm writes the list last) does not.
 * @param {(text: string) => void} tell
 * @throws {PlainError} when npm fails
 */
export async function ensureInstalled(tell) {
  if (isInstalled()) return;
  tell('installing packages (npm ci, about a minute)');
  // No package needs its install script: what they do (downloads, links) is done without them or when it is needed.
  const { isOk, output } = await runNpm(['ci', '--ignore-scripts', '--no-audit', '--no-fund']);
  if (isOk) return;
  const isDiskFull = /ENOSPC|no space left/i.test(output);
  throw new PlainError(
    `npm could not install the packages:\n${output.trim().split('\n').slice(-25).join('\n')}`,
    isDiskFull
      ? 'The disk is full: the packages need about 1.5 GB. Free some space and run the command again.'
      : 'Check the network and the registry that npm is set to ("npm config get registry"), then run the command again.',
  );
}

/**
 * @param {string} [root]
 * @returns {boolean}
 */
export function isInstalled(root = ROOT) {
  const installedFile = path.join(root, 'node_modules', '.package-lock.json');
  if (!fs.existsSync(installedFile)) return false;
  const wanted = readPackages(path.join(root, 'package-lock.json'));
  const installed = readPackages(installedFile);
  // A container image carries no tools for development.
  const isProduction = process.env.NODE_ENV === 'production';
  return Object.entries(wanted).every(([location, { version, dev, optional, devOptional, peer }]) => {
    if (!location.startsWith('node_modules/')) return true;
    const installedPackage = installed[location];
    if (installedPackage === undefined) return Boolean(optional || devOptional || peer || (dev && isProduction));
    return installedPackage.version === version;
  });
}

/**
 * @param {string} file
 * @returns {Packages}
 */
function readPackages(file) {
  return JSON.parse(fs.readFileSync(file, 'utf8')).packages;
}
