import { spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { ROOT } from '../support/paths.mjs';
import { toEnvironment } from '../support/run.mjs';

const END_WITH_PARENT = pathToFileURL(fileURLToPath(new URL('./end-with-parent.mjs', import.meta.url))).href;
const LOG_KEPT_BYTES = 10 * 1024 * 1024;
const STOP_PATIENCE_MS = 12_000;

/**
 * @typedef {object} Child
 * @property {string} name
 * @property {import('node:child_process').ChildProcess} process
 * @property {Promise<string>} ended resolves with a sentence when the process ends, wanted or not
 * @property {() => string} readLogTail the end of what it wrote since it was started
 * @property {() => Promise<void>} stop
 */

/**
 * Starts one of our own programs. It ends when this process does, whatever ends it.
 * @param {object} input
 * @param {string} input.name
 * @param {string[]} input.args script and its arguments, relative to the root
 * @param {NodeJS.ProcessEnv} input.env
 * @param {string | null} input.dataDir where its log goes; null: to our own output
 * @returns {Child}
 */
export function startChild({ name, args, env, dataDir }) {
  const log = dataDir === null ? null : openLog(path.join(dataDir, `${name}.log`));
  const output = log?.handle ?? 'inherit';
  // Detached: Ctrl-C in a terminal reaches the whole group, and the order in which we stop things is ours.
  const child = spawn(process.execPath, ['--import', END_WITH_PARENT, ...args], {
    cwd: ROOT,
    detached: true,
    env: toEnvironment({ NODE_ENV: 'production', ...env }),
    stdio: ['ignore', output, output, 'ipc'],
  });
  if (log !== null) fs.closeSync(log.handle);
  const ended = new Promise((resolve) => {
    child.once('error', (error) => resolve(`${name} could not be started: ${error.message}`));
    child.once('exit', (code, signal) => resolve(`${name} ended (${signal ?? `exit code ${code}`})`));
  });
  return {
    name,
    process: child,
    ended,
    readLogTail: () =>
      log === null ? '' : fs.readFileSync(log.file).subarray(log.start).toString('utf8').slice(-4000),
    stop: async () => {
      child.kill('SIGTERM');
      const patience = new AbortController();
      const isLate = delay(STOP_PATIENCE_MS, true, { signal: patience.signal }).catch(() => false);
      const hasEnded = ended.then(() => false);
      if (await Promise.race([isLate, hasEnded])) child.kill('SIGKILL');
      patience.abort();
      await ended;
    },
  };
}

/**
 * @param {string} file
 * @returns {{ file: string, handle: number, start: number }} where new lines will begin
 */
function openLog(file) {
  const start = rotate(file);
  return { file, handle: fs.openSync(file, 'a', 0o600), start };
}

/**
 * @param {string} file
 * @returns {number} how long it is now
 */
function rotate(file) {
  const size = fs.statSync(file, { throwIfNoEntry: false })?.size ?? 0;
  if (size <= LOG_KEPT_BYTES) return size;
  fs.renameSync(file, `${file}.1`);
  return 0;
}
