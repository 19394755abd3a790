import fs from 'node:fs';
import path from 'node:path';
import { PlainError } from '../support/plain-error.mjs';
import { run } from '../support/run.mjs';

/** Names under which systems install the browser: first the one without a window of its own, which does the same for a sixth less of the processor. */
const NAMES = ['chromium-headless-shell', 'chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];
/** Packages of Debian that bring it, the better first; its relatives do not have both. */
const PACKAGES = ['chromium-headless-shell', 'chromium'];

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
    const outputs = [];
    for (const name of PACKAGES) {
      const { output } = await run('apt-get', ['install', '-y', '--no-install-recommends', name], { env });
      if (findChromium() !== null) return;
      outputs.push(output.slice(-2000));
    }
    throw new PlainError(
      `chromium could not be installed:\n${outputs.join('\n')}`,
      'Install it by hand and run again.',
    );
  }
  throw new PlainError(
    'The browser tests need chromium, and it is not installed.',
    'Install it ("apt-get install chromium-headless-shell" on Debian), or set CHROMIUM_PATH to a chromium or Chrome.',
  );
}
