import { applyMigrations } from '../migrate.mjs';
import { installQueue } from '../queue.mjs';

/**
 * Everything that the owner of the schema brings up to date before a service may use it: our migrations, then the tables of the
 * job queue. Safe to run at every start.
 * @param {object} input
 * @param {string} input.ownerUrl login that owns the schema
 * @returns {Promise<string[]>} names of the migrations applied now
 */
export async function bringUpToDate({ ownerUrl }) {
  const applied = await applyMigrations({ ownerUrl });
  await installQueue({ ownerUrl });
  return applied;
}
