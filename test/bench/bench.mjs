/**
 * What a page of the fleet costs at 1,000 and at 100,000 machines, and how many pressure ladders a core computes.
 * Prints buffers (steady) and times (noisy, the middle of fifty). Ends with 1 where a row's buffers grow by more than a tenth, or where
 * it takes longer than it may.
 */
import { createApp } from '@repo/api/app';
import { readEnv } from '@repo/api/env';
import { createDatabase, startTestDatabase } from '../support/database.mjs';
import { buffersPerCall, fillFleet } from '../support/fleet.mjs';
import { pressureLaddersPerSecond } from './pressure-ladders.mjs';
import { makeOrganisation, signInAt } from './world.mjs';

const SIZES = [1_000, 100_000];
const MOST_GROWTH = 1.1;
const MOST_MS = 10;

/** @param {string} text */
const say = (text) => process.stdout.write(`${text}\n`);

/**
 * Buffers and milliseconds of each page of one fleet.
 * @param {number} machines
 */
async function measureFleet(machines) {
  const db = await createDatabase();
  const { organisationId, email } = await makeOrganisation(db.superuserUrl);
  await fillFleet({ superuserUrl: db.superuserUrl, organisationId, machines });
  const app = await createApp(
    readEnv({
      DATABASE_URL: db.appUrl,
      DATABASE_GATE_URL: db.gateUrl,
      APP_SECRET: 'x'.repeat(40),
      LOG_LEVEL: 'silent',
      RATE_LIMIT: '1000000',
    }),
  );
  await app.listen(0, '127.0.0.1');
  const base = `${await app.getUrl()}/api/v1`;
  const cookie = await signInAt(await app.getUrl(), email);
  /** @param {string} path */
  const get = async (path) => {
    const response = await fetch(`${base}${path}`, { headers: { cookie } });
    if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return response.json();
  };
  let deep = '/circuits/standings?limit=200';
  for (let page = 0; page < 4; page += 1)
    deep = `/circuits/standings?limit=200&cursor=${encodeURIComponent((await get(deep)).nextCursor)}`;
  const pages = {
    'first page': '/circuits/standings',
    'page far down': deep.replace('limit=200', 'limit=50'),
    'what needs somebody': '/circuits/standings?status=need&limit=20',
    'search by name': '/circuits/standings?search=vmc-000900',
    counts: '/circuits/standing-counts',
  };
  /** @type {Record<string, { buffers: number, milliseconds: number }>} */
  const found = {};
  for (const [name, path] of Object.entries(pages)) {
    found[name] = await buffersPerCall({ superuserUrl: db.superuserUrl, calls: 50 }, () => get(path));
  }
  await app.close();
  await db.drop();
  return found;
}

const server = await startTestDatabase();
/** @type {string[]} */
const beyond = [];
try {
  const [small, large] = [await measureFleet(SIZES[0] ?? 0), await measureFleet(SIZES[1] ?? 0)];
  say(`page                     buffers at ${SIZES[0]}   at ${SIZES[1]}   ratio   ms at ${SIZES[0]}   at ${SIZES[1]}`);
  for (const name of Object.keys(small)) {
    const [a, b] = [small[name], large[name]];
    if (a === undefined || b === undefined) continue;
    const ratio = b.buffers / a.buffers;
    if (ratio > MOST_GROWTH) beyond.push(`${name}: ${ratio.toFixed(2)} times the buffers`);
    if (b.milliseconds > MOST_MS) beyond.push(`${name}: ${b.milliseconds.toFixed(1)} ms`);
    say(
      `${name.padEnd(24)} ${a.buffers.toFixed(1).padStart(12)} ${b.buffers.toFixed(1).padStart(11)} ${ratio.toFixed(2).padStart(7)} ${a.milliseconds.toFixed(1).padStart(12)} ${b.milliseconds.toFixed(1).padStart(11)}`,
    );
  }
  const perSecond = pressureLaddersPerSecond();
  say(
    `pressure ladders a second on one core, checks 1 to 4 and 9, nominal, worst case and probability: ${Math.round(perSecond)}`,
  );
  say(beyond.length === 0 ? `every page stays within 10 % and ${MOST_MS} ms` : `BEYOND: ${beyond.join('; ')}`);
} finally {
  await server.stop();
}
process.exit(beyond.length === 0 ? 0 : 1);
