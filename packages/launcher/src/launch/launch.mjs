import fs from 'node:fs';
import path from 'node:path';
import { findFreePort } from '../support/free-port.mjs';
import { ROOT } from '../support/paths.mjs';
import { PlainError } from '../support/plain-error.mjs';
import { getOrCreateSecret } from '../support/secret-file.mjs';
import { toAnnouncement } from './announcement.mjs';
import { waitForAnswer } from './answering.mjs';
import { openDatabase } from './database.mjs';
import { ensureDemo, hasOrganisation } from './demo.mjs';
import { openFrontDoor } from './front-door.mjs';
import { lockDataFolder } from './instance-lock.mjs';
import { waitForInterrupt } from './interrupt.mjs';
import { DEFAULT_DATA_DIR } from './options.mjs';
import { readTlsFiles, startBehind, startWeb } from './servers.mjs';
import { StopStack } from './stop-stack.mjs';
import { Supervised } from './supervised.mjs';

/** @typedef {import('./options.mjs').Options} Options */
/** @typedef {import('./database.mjs').OpenDatabase} OpenDatabase */
/** @typedef {(text: string) => void} Tell */
/**
 * @typedef {object} Running what runs beside the servers and follows them
 * @property {() => Promise<void>} stop
 * @property {Promise<string>} ended
 *
 * @typedef {object} Mode how `npm run dev` differs from `npm start`
 * @property {boolean} [isDeveloping] pages are made from their sources on asking; what dies is tried again without end
 * @property {(input: { renewApi: () => Promise<void>, tell: Tell }) => Running} [follow] started once the servers answer
 */

/**
 * Starts database, API and web, says when all answer, and stays until it is asked to stop. Whichever dies is started again; one that
 * dies over and over ends it all.
 * Whatever happens, what was started is stopped in the opposite order, and nothing else is.
 * @param {Options} options
 * @param {Tell} tell
 * @param {Mode} [mode]
 */
export async function launch(options, tell, mode = {}) {
  createDataFolder(options.dataDir);
  const stack = new StopStack();
  const interrupted = waitForInterrupt(tell);
  try {
    await stack.add(lockDataFolder(options.dataDir));
    await Promise.race([run(options, stack, { tell, mode }), interrupted]);
  } finally {
    await stack.stopAll();
  }
  tell('stopped');
}

/**
 * @param {Options} options
 * @param {StopStack} stack
 * @param {{ tell: Tell, mode: Mode }} input
 */
async function run(options, stack, { tell, mode }) {
  const tls = readTlsFiles(process.env);
  const database = await openDatabase(options, tell);
  const base = new Supervised({ name: 'the database', start: database.restart, tell });
  const { run: server } = database;
  if (server !== null) await base.begin(async () => server);
  await stack.add(() => base.stop());
  await stack.add(database.letGo);
  const givenUp = server === null ? [] : [base.watch()];
  const demo = options.isDemo && !stack.isStopping ? await ensureDemo({ ...options, ...database }, tell) : null;
  if (stack.isStopping) return;
  const { url, ends, renewApi } = await startServers(options, database, { stack, tls, tell, mode });
  if (stack.isStopping) return;
  const problem = await Promise.race([...ends, ...givenUp, waitUntilReady(url, () => stack.isStopping)]);
  if (stack.isStopping) return;
  if (problem !== null) throw new Error(problem);
  const notes = database.notes;
  const given = {
    dataDir: options.dataDir === DEFAULT_DATA_DIR ? undefined : options.dataDir,
    hasDatabase: options.database !== undefined,
  };
  tell(toAnnouncement({ url, demo, hasOrganisation: await hasOrganisation(database.ownerUrl), notes, given }));
  const following = mode.follow?.({ renewApi, tell });
  if (following !== undefined) {
    await stack.add(following.stop);
    ends.push(following.ended);
  }
  const end = await Promise.race([...ends, ...givenUp]);
  if (end !== null && !stack.isStopping)
    throw new PlainError(`${end}.`, `The logs in ${options.dataDir} say more. Start again with "npm start".`);
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
 * Opens the front door, and starts behind it what answers there.
 * @param {Options} options
 * @param {OpenDatabase} database
 * @param {{ stack: StopStack, tls: { cert: Buffer, key: Buffer } | null, tell: Tell, mode: Mode }} input
 * @returns {Promise<{ url: string, ends: Promise<string | null>[], renewApi: () => Promise<void> }>} each end resolves when something is not
 *   started again
 */
async function startServers(options, database, { stack, tls, tell, mode: { isDeveloping = false } }) {
  const { port, host, isSecure, dataDir } = options;
  const url = `${isSecure ? 'https' : 'http'}://${toReachableHost(host)}:${port}`;
  const door = await openFrontDoor({ port, host, tls });
  await stack.add(door.close);
  const webPort = await findFreePort();
  const beginWeb = () => startWeb({ port: webPort, apiUrl: url, dataDir, isDeveloping });
  const beginApi = () =>
    startBehind(door, {
      dataDir,
      isDeveloping,
      env: {
        DATABASE_URL: database.appUrl,
        DATABASE_GATE_URL: database.gateUrl,
        WEB_URL: `http://127.0.0.1:${webPort}`,
        ...(isDeveloping ? {} : { WEB_STATIC_DIR: path.join(ROOT, 'apps', 'web', '.next', 'static') }),
        MESSAGES_DIR: process.env.MESSAGES_DIR || path.join(dataDir, 'messages'),
        AUDIT_HEADS_DIR: process.env.AUDIT_HEADS_DIR || path.join(dataDir, 'audit-heads'),
        APP_SECRET: getOrCreateSecret(path.join(dataDir, 'app-secret')),
      },
    });
  const web = new Supervised({ name: 'the page server', start: beginWeb, tell, isTireless: isDeveloping });
  const api = new Supervised({ name: 'the API', start: beginApi, tell, isTireless: isDeveloping });
  const starting = [web.begin(), api.begin()];
  await stack.add(() => web.stop());
  await stack.add(() => api.stop());
  await Promise.all(starting);
  return { url, ends: [web.watch(), api.watch()], renewApi: () => api.renew() };
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
