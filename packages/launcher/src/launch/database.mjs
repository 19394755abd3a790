import { startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { bringUpToDate } from '../database/bring-up-to-date.mjs';
import { keepCountMonths } from '../database/count-months.mjs';
import { isProcessAlive } from '../postgres/postmaster.mjs';
import { ensureGivenRoles } from '../given-roles.mjs';
import { withConnection } from '../database/connection.mjs';
import { DATABASE, ensureRoles } from '../roles.mjs';
import { clearHalfLoaded, isHalfLoaded } from './demo.mjs';

/**
 * @typedef {object} OpenDatabase
 * @property {string} ownerUrl
 * @property {string} appUrl
 * @property {string} gateUrl
 * @property {string[]} notes sentences for the user
 * @property {() => boolean} isAlive
 * @property {() => Promise<void>} stop stops what was started here: nothing when the server is the user's
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
    return { ...given, isAlive: () => true, stop: async () => undefined };
  }
  const server = await startEmbeddedPostgres({ dataDir });
  try {
    // Nothing but part of the demo can be in it: the mark is set on an empty database.
    if (isHalfLoaded(dataDir)) await dropDatabase(server.url, dataDir);
    const urls = await ensureRoles({ superuserUrl: server.url });
    await migrate(urls.ownerUrl, tell);
    const notes = server.isAdopted ? ['took over the PostgreSQL that an interrupted start had left running'] : [];
    return { ...urls, notes, isAlive: () => isProcessAlive(server.pid), stop: server.stop };
  } catch (error) {
    await server.stop();
    throw error;
  }
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
