import { bringUpToDate } from '../database/bring-up-to-date.mjs';
import { startEmbeddedPostgres } from '../embedded-postgres.mjs';
import { ensureRoles } from '../roles.mjs';

/**
 * Opens the database beside a launcher that may or may not be running on it.
 * @param {import('../launch/options.mjs').Options} options
 * @returns {Promise<{ ownerUrl: string, close: () => Promise<void> }>} `close` stops the server only if this started it
 */
export async function openDatabaseAside({ dataDir, database }) {
  if (database !== undefined) {
    await bringUpToDate({ ownerUrl: database.ownerUrl });
    return { ownerUrl: database.ownerUrl, close: async () => undefined };
  }
  const server = await startEmbeddedPostgres({ dataDir });
  const { ownerUrl } = await ensureRoles({ superuserUrl: server.url });
  await bringUpToDate({ ownerUrl });
  return { ownerUrl, close: server.isAdopted ? async () => undefined : server.stop };
}
