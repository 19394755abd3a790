/**
 * Taking in alarm counts, end to end (HTTP, signature, strict JSON, row security, receipts, fold), against bare inserts of the same
 * rows into the same table with its indexes and keys, by the same login in the same state, alternating in one run. Then 64 senders of
 * single events: transactions for each event, and the wait that grouping adds.
 */
import { createHash, randomUUID } from 'node:crypto';
import pg from 'pg';
import { withConnection } from '@repo/launcher/connection';
import { deliver, makeWorld, openSender, startApiProcess, startDatabase, toRequest } from './ingest-world.mjs';

const PORT = 47_151;
const ROUNDS = 9;
const ROWS_PER_BATCH = [500, 2_000];
const BATCHES = 12;
/** Length of an interval: the whole run fits between the oldest and the youngest that are taken. */
const STEP_MS = 900_000;
const SENDERS = 64;

/** @param {string} text */
const say = (text) => process.stdout.write(`${text}\n`);
const median = (/** @type {number[]} */ values) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;
const at = (/** @type {number[]} */ values, /** @type {number} */ share) =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))] ?? NaN;

const db = await startDatabase();
const world = await makeWorld(db.superuserUrl, { machines: 25 });
await withConnection(db.superuserUrl, (client) => client.query('CREATE EXTENSION IF NOT EXISTS pg_stat_statements'));
const api = await startApiProcess(db.urls, PORT);
const [sourceId = ''] = world.sourceIds;
const circuits = world.machines.flatMap(({ circuitIds }, machine) =>
  circuitIds.map((circuitId, station) => ({ circuitId, machine, station })),
);

/** The next intervals that nobody has reported yet: one clock for all ways of writing. */
let step = Math.floor(Date.parse('2025-07-01T00:00:00Z') / STEP_MS);
/** @param {number} rows */
function nextBatch(rows) {
  const steps = rows / circuits.length;
  const from = step;
  step += steps;
  if (step * STEP_MS > Date.now()) throw new Error('the bench runs into the future: nothing would be taken in');
  return circuits.flatMap(({ circuitId, machine, station }) =>
    Array.from({ length: steps }, (_, index) => ({
      circuitId,
      machine,
      station,
      from: new Date((from + index) * STEP_MS).toISOString(),
      to: new Date((from + index + 1) * STEP_MS).toISOString(),
      clampCycles: (index * 7 + machine) % 60,
      alarms: index % 4 === 0 ? { 'low-air': 1 + (machine % 3) } : {},
    })),
  );
}
/** @typedef {ReturnType<typeof nextBatch>} Batch */

/** @param {Batch} batch */
function toBody(batch) {
  /** @type {Map<number, object[]>} */
  const byMachine = new Map();
  for (const row of batch) {
    const list = byMachine.get(row.machine) ?? [];
    byMachine.set(row.machine, list);
    const { from, to, clampCycles, alarms } = row;
    list.push({ circuit: `P${row.station + 1}`, from, to, revision: 1, clampCycles, alarms });
  }
  return JSON.stringify({
    type: 'alarm.counts',
    timestamp: new Date().toISOString(),
    data: [...byMachine].map(([machine, intervals]) => ({ machine: `M-${machine}`, intervals })),
  });
}

// The settings of the intake's own connections: the comparison is of what is written, not of plans.
const options = '-c plan_cache_mode=force_generic_plan -c enable_seqscan=off';
const raw = new pg.Client({ connectionString: db.urls.appUrl, options });
await raw.connect();
const COLUMNS = `(organisation_id, customer_id, circuit_id, source_id, webhook_id, from_at, to_at, revision, clamp_cycles, alarms,
  measures, numbers_hash, prevails)`;
const hashOf = (/** @type {string} */ text) => createHash('sha256').update(text).digest().readBigInt64BE().toString();

/** @param {() => Promise<unknown>} insert */
async function inTransaction(insert) {
  await raw.query('BEGIN');
  await raw.query(
    `SELECT set_config('role', 'org_staff', true), set_config('app.organisation_id', $1, true), set_config('app.role', 'source', true)`,
    [world.organisationId],
  );
  await insert();
  await raw.query('COMMIT');
}

/** @param {Batch} batch */
function byUnnest(batch) {
  const id = randomUUID();
  const column = (/** @type {(row: Batch[number]) => unknown} */ of) => batch.map(of);
  return inTransaction(() =>
    raw.query({
      name: 'bare unnest',
      text: `INSERT INTO alarm_counts ${COLUMNS}
        SELECT $1, $2, r.c, $3, $4, r.f, r.t, 1, r.n, r.a, NULL, r.h, true
        FROM unnest($5::uuid[], $6::timestamptz[], $7::timestamptz[], $8::int[], $9::jsonb[], $10::bigint[]) AS r (c, f, t, n, a, h)`,
      values: [
        world.organisationId,
        world.customerId,
        sourceId,
        id,
        column((row) => row.circuitId),
        column((row) => row.from),
        column((row) => row.to),
        column((row) => row.clampCycles),
        column((row) => JSON.stringify(row.alarms)),
        column((row) => hashOf(`${row.clampCycles}${JSON.stringify(row.alarms)}`)),
      ],
    }),
  );
}

/** @param {Batch} batch */
function byValues(batch) {
  const id = randomUUID();
  /** @type {unknown[]} */
  const values = [];
  const rows = batch.map((row) => {
    const first = values.length;
    values.push(
      world.organisationId,
      world.customerId,
      row.circuitId,
      sourceId,
      id,
      row.from,
      row.to,
      1,
      row.clampCycles,
      JSON.stringify(row.alarms),
      null,
      hashOf(`${row.clampCycles}${JSON.stringify(row.alarms)}`),
      true,
    );
    return `(${Array.from({ length: 13 }, (_, index) => `$${first + index + 1}`).join(',')})`;
  });
  return inTransaction(() => raw.query(`INSERT INTO alarm_counts ${COLUMNS} VALUES ${rows.join(',')}`, values));
}

/**
 * What is set aside is no measure of anything.
 * @param {{ status: number, text: string }} answer
 * @param {number} rows how many must have been taken in
 */
function assertTakenIn({ status, text }, rows) {
  if (status !== 200 || JSON.parse(text).intervals !== rows) throw new Error(`${status} ${text}`);
}

/**
 * @param {string} body
 * @param {number} rows
 */
async function send(body, rows) {
  assertTakenIn(await deliver({ port: PORT, sourceId, secret: world.secret, id: randomUUID(), body }), rows);
}

/**
 * Rows a second of each way, one after the other in every round.
 * @param {number} rows
 */
async function compare(rows) {
  /** @type {Record<string, number[]>} */
  const speeds = { unnest: [], values: [], 'end to end, 1 sender': [], 'end to end, 4 senders': [] };
  const timed = async (/** @type {string} */ name, /** @type {(batches: Batch[]) => Promise<void>} */ write) => {
    const batches = Array.from({ length: BATCHES }, () => nextBatch(rows));
    const began = performance.now();
    await write(batches);
    speeds[name]?.push((rows * BATCHES * 1000) / (performance.now() - began));
  };
  for (let round = -1; round < ROUNDS; round += 1) {
    // The first round warms up and is not counted.
    if (round === 0) for (const list of Object.values(speeds)) list.length = 0;
    await timed('unnest', async (batches) => {
      for (const batch of batches) await byUnnest(batch);
    });
    await timed('end to end, 1 sender', async (batches) => {
      for (const batch of batches) await send(toBody(batch), rows);
    });
    await timed('values', async (batches) => {
      for (const batch of batches) await byValues(batch);
    });
    await timed('end to end, 4 senders', async (batches) => {
      const bodies = batches.map(toBody);
      await Promise.all(
        Array.from({ length: 4 }, async () => {
          for (let body = bodies.pop(); body !== undefined; body = bodies.pop()) await send(body, rows);
        }),
      );
    });
  }
  say(`\nbatches of ${rows}, ${ROUNDS} rounds [rows/s]`.padEnd(44) + 'median        min        max');
  for (const [name, list] of Object.entries(speeds)) {
    say(
      `  ${name.padEnd(36)}${[median(list), Math.min(...list), Math.max(...list)].map((v) => v.toFixed(0).padStart(11)).join('')}`,
    );
  }
  /** @type {(ours: string, bare: string) => number} */
  const ratio = (ours, bare) => {
    const pairs = (speeds[ours] ?? []).map((value, index) => value / (speeds[bare]?.[index] ?? NaN));
    say(
      `  ${ours} / ${bare}: ${median(pairs).toFixed(2)} (${Math.min(...pairs).toFixed(2)} to ${Math.max(...pairs).toFixed(2)})`,
    );
    return median(pairs);
  };
  const toUnnest = ratio('end to end, 1 sender', 'unnest');
  const toValues = ratio('end to end, 1 sender', 'values');
  ratio('end to end, 4 senders', 'unnest');
  ratio('end to end, 4 senders', 'values');
  return toUnnest >= 0.5 && toValues >= 1;
}

/** Commits of the login that writes, by PostgreSQL's own count. */
const commits = () =>
  withConnection(db.superuserUrl, async (client) => {
    const { rows } = await client.query(
      `SELECT coalesce(sum(calls), 0)::int AS calls FROM pg_stat_statements s JOIN pg_roles r ON r.oid = s.userid
       WHERE r.rolname IN ('kedge_app', 'org_staff') AND s.query ILIKE 'COMMIT%'`,
    );
    return /** @type {number} */ (rows[0].calls);
  });

/** @param {number} senders @param {number} each */
async function singles(senders, each) {
  /** @type {number[]} */
  const answers = [];
  /** @type {number[]} */
  const waits = [];
  const requests = Array.from({ length: senders * each }, () =>
    toRequest({
      sourceId,
      secret: world.secret,
      id: randomUUID(),
      body: toBody(nextBatch(circuits.length).slice(0, 1)),
    }),
  );
  const all = await Promise.all(Array.from({ length: senders }, () => openSender(PORT)));
  const before = await commits();
  const began = performance.now();
  await Promise.all(
    all.map(async (sender) => {
      for (let request = requests.pop(); request !== undefined; request = requests.pop()) {
        const start = performance.now();
        const answer = await sender.send(request);
        answers.push(performance.now() - start);
        waits.push(answer.waitedMs);
        assertTakenIn(answer, 1);
      }
      sender.close();
    }),
  );
  const seconds = (performance.now() - began) / 1000;
  return { transactions: (await commits()) - before, events: waits.length, seconds, waits, answers };
}

let isGood = true;
try {
  for (const rows of ROWS_PER_BATCH) isGood = (await compare(rows)) && isGood;
  await singles(SENDERS, 20);
  const alone = await singles(1, 200);
  const many = await singles(SENDERS, 100);
  const perEvent = many.events / many.transactions;
  // What grouping adds: from the moment that a delivery is read and checked to the begin of its group's commit.
  const added = at(many.waits, 0.99);
  say(
    `\n${SENDERS} senders of single events: ${many.events} events, ${(many.events / many.seconds).toFixed(0)} a second`,
  );
  say(`  ${many.transactions} transactions: one for ${perEvent.toFixed(1)} events`);
  say(
    `  wait added by grouping: ${median(many.waits).toFixed(1)} ms (median), ${added.toFixed(1)} ms (99th percentile)`,
  );
  for (const [name, { answers }] of Object.entries({ [`${SENDERS} senders`]: many, '1 sender': alone })) {
    say(
      `  answer to ${name} after ${median(answers).toFixed(1)} ms (median), ${at(answers, 0.99).toFixed(1)} ms (99th percentile)`,
    );
  }
  isGood = isGood && perEvent >= 20 && added <= 20;
  say(isGood ? '\nall within bounds' : '\nNOT WITHIN BOUNDS');
} finally {
  await raw.end();
  await api.kill('SIGTERM');
  await db.stop();
}
process.exit(isGood ? 0 : 1);
