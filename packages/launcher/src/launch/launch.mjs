import fs from 'node:fs';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { findFreePort } from '../support/free-port.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { getOrCreateSecret } from '../support/secret-file.mjs';
import { toAnnouncement } from './announcement.mjs';
import { waitForAnswer } from './answering.mjs';
import { startChild } from './child.mjs';
import { openDatabase } from './database.mjs';
import { ensureDemo, hasOrganisation } from './demo.mjs';
import { lockDataFolder } from './instance-lock.mjs';
import { waitForInterrupt } from './interrupt.mjs';
import { StopStack } from './stop-stack.mjs';

/** @typedef {import('./options.mjs').Options} Options */
/** @typedef {import('./child.mjs').Child} Child */
/** @typedef {import('./database.mjs').OpenDatabase} OpenDatabase */
/** @typedef {(text: string) => void} Tell */

const DATABASE_LOOK_MS = 2_000;

/**
 * Starts database, API and web, says when all answer, and stays until it is asked to stop or one of them ends.
 * Whatever happens, what was started is stopped in the opposite order, and nothing else is.
 * @param {Options} options
 * @param {Tell} tell
 */
export async function launch(options, tell) {
  createDataFolder(options.dataDir);
  const stack = new StopStack();
  const interrupted = waitForInterrupt(tell);
  try {
    await stack.add(lockDataFolder(options.dataDir));
    await Promise.race([run(options, stack, tell), interrupted]);
  } finally {
    await stack.stopAll();
  }
  tell('stopped');
}

/**
 * @param {Options} options
 * @param {StopStack} stack
 * @param {Tell} tell
 */
async function run(options, stack, tell) {
  const database = await openDatabase(options, tell);
  await stack.add(database.stop);
  const demo = options.isDemo && !stack.isStopping ? await ensureDemo({ ...options, ...database }, tell) : null;
  if (stack.isStopping) return;
  const { children, url } = await startServers(options, database, stack);
  const ended = Promise.race(
    children.map(({ ended: sentence, readLogTail }) => sentence.then((text) => `${text}:\n${readLogTail()}`)),
  );
  const problem = await Promise.race([ended, waitUntilReady(url, () => stack.isStopping)]);
  if (stack.isStopping) return;
  if (problem !== null) throw new Error(problem);
  const notes = database.notes;
  tell(toAnnouncement({ url, demo, hasOrganisation: await hasOrganisation(database.ownerUrl), notes }));
  const end = await Promise.race([ended, waitForDatabaseEnd(database, stack)]);
  if (!stack.isStopping)
    throw new PlainError(end, `The logs in ${options.dataDir} say more. Start again with "npm start".`);
}

/** @param {string} dataDir */
function createDataFolder(dataDir) {
  try {
    fs.mkdirSync(dataDir, { recursive: true, mode: 0o755 });
  } catch (error) {
    const reason = error instanceof Error ? error.message : error;
    throw new PlainError(
      `The data folder cannot be made (${reason}).`,
      'Set DATA_DIR to a folder you may write to.',
      error,
    );
  }
}

/**
 * @param {Options} options
 * @param {OpenDatabase} database
 * @param {StopStack} stack
 * @returns {Promise<{ children: Child[], url: string }>}
 */
async function startServers({ port, host, isSecure, dataDir }, database, stack) {
  const webPort = await findFreePort();
  const webUrl = `http://127.0.0.1:${webPort}`;
  const url = `${isSecure ? 'https' : 'http'}://${toReachableHost(host)}:${port}`;
  const web = startChild({
    name: 'web',
    args: [
      path.join('node_modules', 'next', 'dist', 'bin', 'next'),
      'start',
      path.join('apps', 'web'),
      '-p',
      String(webPort),
      '-H',
      '127.0.0.1',
    ],
    env: { API_URL: url },
    dataDir,
  });
  await stack.add(web.stop);
  const api = startChild({
    name: 'api',
    args: [path.join('apps', 'api', 'dist', 'main.js')],
    env: {
      PORT: String(port),
      HOST: host,
      DATABASE_URL: database.appUrl,
      DATABASE_GATE_URL: database.gateUrl,
      WEB_URL: webUrl,
      APP_SECRET: getOrCreateSecret(path.join(dataDir, 'app-secret')),
    },
    dataDir,
  });
  await stack.add(api.stop);
  return { children: [api, web], url };
}

/**
 * An address to type for a server that listens on every one.
 * @param {string} host
 */
function toReachableHost(host) {
  if (host === '0.0.0.0') return '127.0.0.1';
  if (host === '::') return '[::1]';
  return host.includes(':') ? `[${host}]` : host;
}

/**
 * @param {string} url of the front door
 * @param {() => boolean} isOver
 * @returns {Promise<string | null>} null when API and web answer, else what does not
 */
async function waitUntilReady(url, isOver) {
  const apiProblem = await waitForAnswer(`${url}/ready`, (status) => status === 200, isOver);
  if (apiProblem !== null) return `The API is not ready: ${apiProblem}`;
  const webProblem = await waitForAnswer(`${url}/`, (status) => status < 400, isOver);
  return webProblem === null ? null : `The pages are not ready: ${webProblem}`;
}

/**
 * @param {OpenDatabase} database
 * @param {StopStack} stack
 */
async function waitForDatabaseEnd(database, stack) {
  while (database.isAlive() && !stack.isStopping) await delay(DATABASE_LOOK_MS, undefined, { ref: false });
  return 'the database ended';
}
