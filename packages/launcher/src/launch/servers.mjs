import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { PlainError } from '../support/plain-error.mjs';
import { waitForAnswer } from './answering.mjs';
import { startChild } from './child.mjs';

/** @typedef {import('./child.mjs').Child} Child */

const START_PATIENCE_MS = 60_000;
const TUNNEL = new URL('../develop/tunnel.mjs', import.meta.url).href;

/**
 * The page server, once it answers.
 * @param {object} input
 * @param {number} input.port
 * @param {string} input.apiUrl
 * @param {string} input.dataDir
 * @param {boolean} [input.isDeveloping] from its sources, into a folder of its own beside the build
 * @returns {Promise<Child>}
 */
export async function startWeb({ port, apiUrl, dataDir, isDeveloping = false }) {
  const next = path.join('node_modules', 'next', 'dist', 'bin', 'next');
  const web = startChild({
    name: 'web',
    args: [next, isDeveloping ? 'dev' : 'start', path.join('apps', 'web'), '-p', String(port), '-H', '127.0.0.1'],
    env: { API_URL: apiUrl, ...(isDeveloping ? { NODE_ENV: 'development' } : {}) },
    dataDir,
  });
  let hasEnded = false;
  void web.ended.then(() => (hasEnded = true));
  const problem = await waitForAnswer(
    `http://127.0.0.1:${port}/`,
    (status) => status < 500,
    () => hasEnded,
  );
  return problem === null ? web : giveUp(web, problem);
}

/**
 * The API, once it takes connections from the front door.
 * @param {object} input
 * @param {NodeJS.ProcessEnv} input.env
 * @param {string | null} input.dataDir
 * @param {boolean} [input.isDeveloping]
 * @returns {Promise<Child>}
 */
async function startApi({ env, dataDir, isDeveloping = false }) {
  const api = startChild({
    name: 'api',
    args: [...(isDeveloping ? ['--import', TUNNEL] : []), path.join('apps', 'api', 'dist', 'main.js')],
    env: { ...env, CONNECTIONS: 'handed-over' },
    dataDir,
  });
  const patience = new AbortController();
  const first = await Promise.race([
    new Promise((resolve) => api.process.once('message', () => resolve('takes connections'))),
    api.ended.then(() => 'ended'),
    delay(START_PATIENCE_MS, 'late', { signal: patience.signal }).catch(() => 'late'),
  ]);
  patience.abort();
  return first === 'takes connections' ? api : giveUp(api, 'it takes no connections');
}

/**
 * The API behind the front door, which leads to it for as long as it lives.
 * @param {import('./front-door.mjs').FrontDoor} door
 * @param {{ env: NodeJS.ProcessEnv, dataDir: string | null, isDeveloping?: boolean }} input
 * @returns {Promise<Child>}
 */
export async function startBehind(door, input) {
  const api = await startApi(input);
  door.leadTo(api.process);
  void api.ended.then(() => door.leadTo(null));
  return api;
}

/**
 * The files of the certificate, read before anything is started.
 * @param {NodeJS.ProcessEnv} env
 * @returns {{ cert: Buffer, key: Buffer } | null}
 */
export function readTlsFiles({ TLS_CERT, TLS_KEY }) {
  if (!TLS_CERT || !TLS_KEY) return null;
  try {
    return { cert: fs.readFileSync(TLS_CERT), key: fs.readFileSync(TLS_KEY) };
  } catch (error) {
    throw new PlainError(
      `The certificate or its key cannot be read (${error instanceof Error ? error.message : error}).`,
      'Set TLS_CERT and TLS_KEY to files in PEM format that you may read.',
      error,
    );
  }
}

/**
 * @param {Child} child
 * @param {string} problem
 * @returns {Promise<never>}
 */
async function giveUp(child, problem) {
  await child.stop();
  throw new Error(`${child.name} did not start: ${problem}; ${await child.ended}:\n${child.readLogTail()}`);
}
