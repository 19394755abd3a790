/**
 * What a page of the fleet costs at 1,000 and at 100,000 machines, and how many pressure ladders a core computes.
 * Prints buffers (steady) and times (noisy, the middle of fifty, of a server that has answered for a while). Ends with 1 where a row's buffers grow by more than a tenth and by more
 * than its indexes grew deeper, or where it takes longer than it may.
 *
 * An index over a hundred times as many rows is one level deeper, which is one buffer for each time that something is looked up in it: a
 * row that costs nine buffers in all shows that as a fifth. How deep each index is and how often a row looks something up in it is asked
 * of the server itself, for every row alike, and exactly that is allowed.
 */
import { createApp } from '@repo/api/app';
import { readEnv } from '@repo/api/env';
import { withConnection } from '@repo/launcher/connection';
import { createDatabase, startTestDatabase } from '../support/database.mjs';
import { buffersPerCall, fillFleet } from '../support/fleet.mjs';
import { pressureLaddersPerSecond } from './pressure-ladders.mjs';
import { makeOrganisation, signInAt } from './world.mjs';

const SIZES = [1_000, 100_000];
const MOST_GROWTH = 1.1;
const MOST_MS = 10;
const COUNTED_CALLS = 10;
/** A server that began a moment ago still compiles itself: its first hundred answers take twice as long, whatever lies behind them. */
const WARM_CALLS = 200;

/** @param {string} text */
const say = (text) => process.stdout.write(`${text}\n`);

/**
 * How often each index is looked into by one call, and how many levels it has below its root.
 * @param {string} superuserUrl
 * @param {() => Promise<unknown>} call
 */
async function lookUps(superuserUrl, call) {
  return withConnection(superuserUrl, async (client) => {
    await client.query('CREATE EXTENSION IF NOT EXISTS pageinspect');
    // What a connection counted is sure to be there once it has ended; whoever asks next gets a new one.
    const scans = async () => {
      await client.query(`SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity
                          WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'`);
      const { rows } = await client.query(`SELECT i.indexrelname AS name, i.idx_scan::float8 AS scans, m.level
        FROM pg_stat_user_indexes i JOIN pg_class c ON c.oid = i.indexrelid JOIN pg_am a ON a.oid = c.relam AND a.amname = 'btree'
        CROSS JOIN LATERAL bt_metap(format('%I.%I', i.schemaname, i.indexrelname)) m`);
      return new Map(
        rows.map(({ name, scans: all, level }) => [String(name), { all: Number(all), level: Number(level) }]),
      );
    };
    const before = await scans();
    for (let round = 0; round < COUNTED_CALLS; round += 1) await call();
    const after = await scans();
    return new Map(
      [...after].map(([name, { all, level }]) => [
        name,
        { level, times: (all - (before.get(name)?.all ?? 0)) / COUNTED_CALLS },
      ]),
    );
  });
}
/** @typedef {Awaited<ReturnType<typeof lookUps>>} LookUps */

/**
 * Buffers that a call costs more since its indexes are deeper.
 * @param {LookUps} small
 * @param {LookUps} large
 */
const ofDepth = (small, large) =>
  [...large].reduce(
    (sum, [name, { level, times }]) => sum + times * Math.max(0, level - (small.get(name)?.level ?? level)),
    0,
  );

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
  /** @type {Record<string, { buffers: number, milliseconds: number, indexes: LookUps }>} */
  const found = {};
  for (let round = 0; round < WARM_CALLS; round += 1) await get(pages['first page']);
  for (const [name, path] of Object.entries(pages)) {
    const costs = await buffersPerCall({ superuserUrl: db.superuserUrl, calls: 50 }, () => get(path));
    found[name] = { ...costs, indexes: await lookUps(db.superuserUrl, () => get(path)) };
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
  say(
    `page                     buffers at ${SIZES[0]}   at ${SIZES[1]}   ratio   of depth   ms at ${SIZES[0]}   at ${SIZES[1]}`,
  );
  for (const name of Object.keys(small)) {
    const [a, b] = [small[name], large[name]];
    if (a === undefined || b === undefined) continue;
    const ratio = b.buffers / a.buffers;
    const deeper = ofDepth(a.indexes, b.indexes);
    if (b.buffers > Math.max(a.buffers * MOST_GROWTH, a.buffers + deeper)) {
      beyond.push(`${name}: ${ratio.toFixed(2)} times the buffers`);
    }
    if (b.milliseconds > MOST_MS) beyond.push(`${name}: ${b.milliseconds.toFixed(1)} ms`);
    say(
      `${name.padEnd(24)} ${a.buffers.toFixed(1).padStart(12)} ${b.buffers.toFixed(1).padStart(11)} ${ratio.toFixed(2).padStart(7)} ${`+${deeper.toFixed(1)}`.padStart(10)} ${a.milliseconds.toFixed(1).padStart(12)} ${b.milliseconds.toFixed(1).padStart(11)}`,
    );
  }
  const perSecond = pressureLaddersPerSecond();
  say(
    `pressure ladders a second on one core, checks 1 to 4 and 9, nominal, worst case and probability: ${Math.round(perSecond)}`,
  );
  say(
    beyond.length === 0
      ? `every page stays within 10 %, or what its indexes are deeper, and within ${MOST_MS} ms`
      : `BEYOND: ${beyond.join('; ')}`,
  );
} finally {
  await server.stop();
}
process.exit(beyond.length === 0 ? 0 : 1);
