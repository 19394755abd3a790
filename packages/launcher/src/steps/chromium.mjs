import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../support/plain-error.mjs';
import { run } from '../support/run.mjs';

/** Names under which systems install the browser. */
const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];

/**
 * The browser that the journeys drive: CHROMIUM_PATH, or one found on the path.
 * @returns {string | null}
 */
export function findChromium() {
  const given = process.env.CHROMIUM_PATH;
  if (given !== undefined && given !== '') return given;
  const folders = (process.env.PATH ?? '').split(path.delimiter);
  const files = NAMES.flatMap((name) => folders.map((folder) => path.join(folder, name)));
  return files.find((file) => fs.existsSync(file)) ?? null;
}

/**
 * Installs the browser with the system's package manager when this is root on Debian or a relative of it.
 * @param {(text: string) => void} tell
 * @throws {PlainError} when there is none and it cannot be installed
 */
export async function ensureChromium(tell) {
  if (findChromium() !== null) return;
  const isRoot = process.getuid !== undefined && process.getuid() === 0;
  if (isRoot && (await run('apt-get', ['--version'])).isOk) {
    tell('installing chromium (apt-get)');
    const env = { DEBIAN_FRONTEND: 'noninteractive' };
    await run('apt-get', ['update'], { env });
    const { output } = await run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], { env });
    if (findChromium() !== null) return;
    throw new PlainError(
      `chromium could not be installed:\n${output.slice(-2000)}`,
      'Install it by hand and run again.',
    );
  }
  throw new PlainError(
    'The browser tests need chromium, and it is not installed.',
    'Install it ("apt-get install chromium" on Debian), or set CHROMIUM_PATH to a chromium or Chrome.',
  );
}
