/**
 * Faults while alarm counts come in: kill -9 of the API and of PostgreSQL, duplicates, reordering, retries after 75 hours, revisions
 * out of order. After each run every acknowledged interval is stored once, what prevails and its sums equal an independent recount,
 * and every finding is there once. Same seed, same deliveries and faults.
 */
import { setTimeout as delay } from 'node:timers/promises';
import { withConnection } from '@repo/launcher/connection';
import { findFreePort } from '@repo/launcher/ports';
import { isProcessAlive } from '@repo/launcher/processes';
import { deliver, makeWorld, startApiProcess, startDatabase } from '../bench/ingest-world.mjs';
import { seeded, writeLetters } from './deliveries.mjs';
import { recount } from './recount.mjs';

const HOUR = 3_600_000;
const SENDERS = 8;
const START = Date.parse('2026-01-01T00:00:00Z');
const LONGEST_MS = 120_000;

/** @typedef {import('./deliveries.mjs').Letter} Letter */

/**
 * @param {{ runs: number, seed?: number, tell?: (text: string) => void }} options
 * @returns {Promise<{ deliveries: number, attempts: number, kills: number, rows: number, findings: number }>}
 */
export async function drillIngest({ runs, seed = 1, tell = () => undefined }) {
  const db = await startDatabase();
  const port = await findFreePort();
  const total = { deliveries: 0, attempts: 0, kills: 0, rows: 0, findings: 0 };
  let api = await startApiProcess(db.urls, port);
  try {
    const world = await makeWorld(db.superuserUrl, { machines: 3, sources: 2 });
    for (let run = 0; run < runs; run += 1) {
      const random = seeded(seed * 1_000_003 + run);
      const start = START + run * 24 * HOUR;
      const name = `run${run}`;
      const letters = writeLetters(random, world, start, name);
      const faults = random.shuffled(['api', 'database', 'both']).slice(0, 1 + random.whole(2));
      const sending = sendAll(random, letters, { port, secret: world.secret });
      for (const fault of faults) {
        await delay(20 + random.whole(250));
        if (fault !== 'database') await api.kill('SIGKILL');
        if (fault !== 'api') {
          process.kill(-db.pid, 'SIGKILL');
          while (isProcessAlive(db.pid)) await delay(10);
          await db.restart();
        }
        if (fault !== 'database') api = await startApiProcess(db.urls, port);
        total.kills += fault === 'both' ? 2 : 1;
      }
      const attempts = await sending;
      total.attempts += attempts;
      await retryLate(db.superuserUrl, random, letters, { port, secret: world.secret });
      const found = await verify(db.superuserUrl, letters, { start, name });
      total.deliveries += new Set(letters.map(({ id }) => id)).size;
      total.rows += found.rows;
      total.findings += found.findings;
      tell(
        `run ${run + 1} of ${runs}: ${faults.join(', ')} killed; ${found.rows} reports, ${found.findings} findings, all as recounted`,
      );
    }
  } finally {
    await api.kill('SIGKILL');
    await db.stop();
  }
  return total;
}

/**
 * Several senders, each repeating a delivery until it is acknowledged; a quarter of them once more after that.
 * @param {ReturnType<typeof seeded>} random
 * @param {readonly Letter[]} letters
 * @param {{ port: number, secret: Buffer }} to
 */
async function sendAll(random, letters, to) {
  const queue = random.shuffled([...letters, ...letters.filter(() => random.chance(0.25))]);
  const attempts = await Promise.all(
    Array.from({ length: SENDERS }, async () => {
      let mine = 0;
      for (let letter = queue.pop(); letter !== undefined; letter = queue.pop()) {
        const tries = await sendUntilTaken(letter, to);
        mine += tries;
        // Spread, so that the faults fall between and into deliveries.
        await delay(5);
      }
      return mine;
    }),
  );
  return attempts.reduce((sum, mine) => sum + mine, 0);
}

/**
 * @param {Letter} letter
 * @param {{ port: number, secret: Buffer }} to
 */
async function sendUntilTaken(letter, { port, secret }) {
  const began = Date.now();
  for (let attempt = 1; ; attempt += 1) {
    const { id, source, body } = letter;
    const { status, text } = await deliver({ port, secret, id, body, sourceId: source });
    if (status === 200) return attempt;
    // No answer, or "later": anything else would be a loss, for a sender gives up on it.
    if (status !== 0 && status !== 503) throw new Error(`${id}: ${status} ${text}`);
    if (Date.now() - began > LONGEST_MS) throw new Error(`${id}: not taken within a minute, last ${status} ${text}`);
    await delay(50);
  }
}

/**
 * Three days later, by the receipts' clock: some come again, signed anew, and change nothing.
 * @param {string} superuserUrl
 * @param {ReturnType<typeof seeded>} random
 * @param {readonly Letter[]} letters
 * @param {{ port: number, secret: Buffer }} to
 */
async function retryLate(superuserUrl, random, letters, to) {
  await withConnection(superuserUrl, (client) =>
    client.query(
      `UPDATE deliveries SET received_at = received_at - interval '75 hours' WHERE received_at > now() - interval '75 hours'`,
    ),
  );
  for (const letter of letters.filter(() => random.chance(0.2))) await sendUntilTaken(letter, to);
}

/**
 * @param {string} superuserUrl
 * @param {readonly Letter[]} letters
 * @param {{ start: number, name: string }} run
 */
async function verify(superuserUrl, letters, { start, name }) {
  return withConnection(superuserUrl, async (client) => {
    const receipts = await client.query(
      `SELECT webhook_id AS id, encode(body_sha256, 'hex') AS sha FROM deliveries WHERE webhook_id LIKE $1`,
      [`${name}-%`],
    );
    // Of two bodies under one id the receipt says which came first.
    const shas = new Map(receipts.rows.map((row) => [row.id, row.sha]));
    const taken = letters.filter((letter) => shas.get(letter.id) === letter.sha);
    assertSame('receipts', [...shas.keys()].sort(), [...new Set(letters.map(({ id }) => id))].sort());
    const expected = recount(taken);
    const counts = await client.query(
      `SELECT circuit_id || ' ' || (extract(epoch FROM from_at) * 1000)::bigint || ' ' || (extract(epoch FROM to_at) * 1000)::bigint
              || ' ' || revision || ' ' || clamp_cycles || ' ' || coalesce((alarms ->> 'low-air')::int, 0) AS word,
              prevails, clamp_cycles AS cycles
       FROM alarm_counts WHERE from_at >= $1 AND from_at < $2`,
      [new Date(start), new Date(start + 24 * HOUR)],
    );
    const standing = counts.rows.filter((row) => row.prevails);
    assertSame('reports', counts.rows.map((row) => row.word).sort(), expected.rows);
    assertSame('what prevails', standing.map((row) => row.word).sort(), expected.standing);
    const cycles = standing.reduce((sum, row) => sum + row.cycles, 0);
    assertSame('clamp cycles', [String(cycles)], [String(expected.cycles)]);
    const findings = await client.query(
      `SELECT kind, webhook_id AS id, circuit_id AS circuit, detail FROM findings WHERE webhook_id LIKE $1`,
      [`${name}-%`],
    );
    const ofKind = (/** @type {string} */ kind) => findings.rows.filter((row) => row.kind === kind);
    const interval = (/** @type {{ circuit: string }} */ row, /** @type {{ from: string, to: string }} */ one) =>
      `${row.circuit} ${Date.parse(one.from)} ${Date.parse(one.to)}`;
    assertSame(
      'contradictions',
      ofKind('same-revision')
        .map((row) => `${interval(row, row.detail.contenders[0])} ${row.detail.contenders[0].revision}`)
        .sort(),
      expected.contradictions,
    );
    assertSame(
      'overlaps',
      ofKind('overlap')
        .map((row) =>
          row.detail.contenders
            .map((/** @type {{ from: string, to: string }} */ one) => interval(row, one))
            .sort()
            .join(' | '),
        )
        .sort(),
      expected.overlaps,
    );
    for (const kind of ['unknown-machine', 'bad-count']) {
      assertSame(
        kind,
        ofKind(kind)
          .map((row) => row.id)
          .sort(),
        taken
          .filter((letter) => letter.bad.includes(kind))
          .map(({ id }) => id)
          .sort(),
      );
    }
    assertSame(
      'same id, other body',
      ofKind('same-id-other-body')
        .map((row) => `${row.id} ${row.detail.sha256}`)
        .sort(),
      letters
        .filter((letter) => shas.get(letter.id) !== letter.sha)
        .map((letter) => `${letter.id} ${letter.sha}`)
        .sort(),
    );
    return { rows: counts.rows.length, findings: findings.rows.length };
  });
}

/**
 * @param {string} what
 * @param {readonly string[]} got
 * @param {readonly string[]} expected
 */
function assertSame(what, got, expected) {
  if (got.length === expected.length && got.every((one, index) => one === expected[index])) return;
  const lost = expected.filter((one) => !got.includes(one));
  const extra = got.filter((one) => !expected.includes(one));
  const shown = JSON.stringify({ lost: lost.slice(0, 5), extra: extra.slice(0, 5) });
  throw new Error(`${what}: ${got.length} stored, ${expected.length} by the recount; ${shown}`);
}
