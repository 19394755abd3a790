import { setTimeout as delay } from 'node:timers/promises';
import { startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { bringUpToDate } from '../database/bring-up-to-date.mjs';
import { keepCountMonths } from '../database/count-months.mjs';
import { isProcessAlive } from '../postgres/postmaster.mjs';
import { ensureGivenRoles } from '../given-roles.mjs';
import { withConnection } from '../database/connection.mjs';
import { holdLogins } from '../database/login-hold.mjs';
import { DATABASE, ensureRoles } from '../roles.mjs';
import { clearHalfLoaded, isHalfLoaded } from './demo.mjs';

/** @typedef {import('./supervised.mjs').Run} Run */

const LOOK_MS = 500;

/**
 * @typedef {object} OpenDatabase
 * @property {string} ownerUrl
 * @property {string} appUrl
 * @property {string} gateUrl
 * @property {string[]} notes sentences for the user
 * @property {Run | null} run null when the server is the user's: then it is neither watched nor stopped here
 * @property {() => Promise<void>} letGo of what is held as long as the server lives
 * @property {() => Promise<Run>} restart on the port it had, so that whoever was connected finds it again
 */

/**
 * Opens the database, the user's or our own, with its roles and every migration.
 * @param {import('./options.mjs').Options} options
 * @param {(text: string) => void} tell
 * @returns {Promise<OpenDatabase>}
 */
export async function openDatabase({ dataDir, database }, tell) {
  if (database !== undefined) {
    const given = await ensureGivenRoles(database);
    await migrate(given.ownerUrl, tell);
    const restart = () => Promise.reject(new Error('the server is the user’s'));
    return { ...given, run: null, restart, letGo: async () => undefined };
  }
  const server = await startEmbeddedPostgres({ dataDir });
  try {
    // Nothing but part of the demo can be in it: the mark is set on an empty database.
    if (isHalfLoaded(dataDir)) await dropDatabase(server.url, dataDir);
    const urls = await ensureRoles({ superuserUrl: server.url });
    await migrate(urls.ownerUrl, tell);
    const notes = server.isAdopted ? ['took over the PostgreSQL that an interrupted start had left running'] : [];
    const restart = async () => toRun(await startEmbeddedPostgres({ dataDir, port: server.port }));
    const putBack = () => ensureRoles({ superuserUrl: server.url });
    const loginUrls = Object.values(urls);
    const hold = await holdLogins({ superuserUrl: server.url, loginUrls, putBack, tell });
    return { ...urls, notes, run: toRun(server), restart, letGo: hold.stop };
  } catch (error) {
    await server.stop();
    throw error;
  }
}

/**
 * A server that runs apart from this process: its end is seen by looking.
 * @param {import('../embedded-postgres.mjs').EmbeddedPostgres} server
 * @returns {Run}
 */
function toRun({ pid, stop }) {
  const waitForEnd = async () => {
    while (isProcessAlive(pid)) await delay(LOOK_MS, undefined, { ref: false });
    return 'the database ended';
  };
  return { ended: waitForEnd(), stop };
}

/**
 * @param {string} ownerUrl
 * @param {(text: string) => void} tell
 */
async function migrate(ownerUrl, tell) {
  const applied = await bringUpToDate({ ownerUrl });
  await keepCountMonths({ ownerUrl });
  if (applied.length > 0) tell(`applied ${applied.length} migration${applied.length === 1 ? '' : 's'}`);
}

/**
 * @param {string} superuserUrl
 * @param {string} dataDir
 */
async function dropDatabase(superuserUrl, dataDir) {
  await withConnection(superuserUrl, (client) => client.query(`DROP DATABASE IF EXISTS ${DATABASE} WITH (FORCE)`));
  clearHalfLoaded(dataDir);
}
