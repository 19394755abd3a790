import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT } from './support/paths.mjs';

/** @typedef {{ email: string, role: string, note: string }} DemoLogin */

/**
 * Loads the invented demonstration into a migrated database without organisations.
 * Its files stand beside the schema and belong to no package: this is the door to them.
 * @param {object} input
 * @param {string} input.ownerUrl
 * @param {string} input.appUrl
 * @param {string} input.gateUrl
 * @param {string} input.password of every login
 * @returns {Promise<{ logins: DemoLogin[] }>}
 */
export async function loadDemo(input) {
  const seed = await import(pathToFileURL(path.join(ROOT, 'prisma', 'seed', 'index.mjs')).href);
  return seed.loadDemo(input);
}
