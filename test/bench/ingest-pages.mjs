/** What the machine's chart and the fleet page cost at 100,000 and at 10,000,000 rows of counts, and how long a month's drop takes. */
import { randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import { withConnection } from '@repo/launcher/connection';
import { findFreePort } from '@repo/launcher/ports';
import { fillCounts } from '../support/counts.mjs';
import { buffersPerCall, fillFleet } from '../support/fleet.mjs';
import { startApiProcess, startDatabase } from './ingest-world.mjs';

/** 100,000 and 10,000,000 rows: twelve weeks of a page of circuits, a year of an installed base. */
const WORLDS = [
  { circuits: 50, hours: 2_000 },
  { circuits: 1_142, hours: 8_760 },
];
const PASSWORD = 'a password for the benchmark';
/** @type {Record<string, number[]>} */
const found = {};
let dropMs = 0;
const say = (/** @type {string} */ text) => process.stdout.write(`${text}\n`);

for (const { circuits, hours } of WORLDS) {
  const db = await startDatabase({ settings: { fsync: 'off', max_wal_size: '4GB' } });
  const api = await findFreePort().then(async (port) => ({ port, ...(await startApiProcess(db.urls, port)) }));
  try {
    const { superuserUrl } = db;
    const organisationId = randomUUID();
    const userId = randomUUID();
    const passwordHash = await hash(PASSWORD);
    await withConnection(superuserUrl, async (client) => {
      await client.query(`INSERT INTO organisations (id, name, margins_asked) VALUES ($1, 'Bench', '{}')`, [
        organisationId,
      ]);
      await client.query(
        `INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, 'lead@bench.example', 'Lead', $2)`,
        [userId, passwordHash],
      );
      await client.query(
        `INSERT INTO memberships (organisation_id, id, user_id, role, display_name) VALUES ($1, $2, $3, 'lead', 'Lead')`,
        [organisationId, randomUUID(), userId],
      );
    });
    await fillFleet({ superuserUrl, organisationId, machines: circuits });
    const { rows, machineId } = await fillCounts({ superuserUrl, organisationId, circuits, hours });
    const base = `http://127.0.0.1:${api.port}/api/v1`;
    const signIn = await fetch(`${base}/sessions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email: 'lead@bench.example', password: PASSWORD }),
    });
    const cookie = signIn.headers.getSetCookie()[0]?.split(';', 1)[0] ?? '';
    const daysAgo = (/** @type {number} */ days) => new Date(Date.now() - days * 86_400_000).toISOString();
    const pages = {
      'machine, 7 days': `/machines/${machineId}/alarm-counts?from=${daysAgo(7)}&to=${daysAgo(0)}`,
      'machine, 35 days': `/machines/${machineId}/alarm-counts?from=${daysAgo(35)}&to=${daysAgo(0)}`,
      'fleet page': '/circuits/standings',
    };
    say(`${rows} rows of counts`);
    for (const [name, path] of Object.entries(pages)) {
      const { buffers, milliseconds } = await buffersPerCall({ superuserUrl, calls: 10 }, async () => {
        const response = await fetch(`${base}${path}`, { headers: { cookie } });
        if (!response.ok) throw new Error(`${path}: ${response.status}`);
        await response.arrayBuffer();
      });
      (found[name] ??= []).push(buffers);
      say(`  ${name.padEnd(18)} ${buffers.toFixed(0).padStart(7)} buffers ${milliseconds.toFixed(1).padStart(8)} ms`);
    }
    // A month that is past keeping was written long ago: nothing of it waits to be written any more.
    await withConnection(superuserUrl, (client) => client.query('CHECKPOINT'));
    await withConnection(db.urls.ownerUrl, async (client) => {
      const month = new Date(Date.now() - 40 * 86_400_000).toISOString().slice(0, 7).replace('-', '_');
      const { rows: sizes } = await client.query(`SELECT pg_total_relation_size($1::regclass) / 1e6 AS mb`, [
        `alarm_counts_${month}`,
      ]);
      const began = performance.now();
      // As the upkeep does it.
      await client.query('BEGIN');
      await client.query(`ALTER TABLE alarm_counts DETACH PARTITION alarm_counts_${month}`);
      await client.query(`DROP TABLE alarm_counts_${month}`);
      await client.query('COMMIT');
      dropMs = performance.now() - began;
      say(`  month ${month} (${Number(sizes[0].mb).toFixed(0)} MB) dropped in ${dropMs.toFixed(0)} ms`);
    });
  } finally {
    await api.kill('SIGKILL');
    await db.stop();
  }
}
let isGood = dropMs < 1_000;
for (const [name, [small = 0, large = 0]] of Object.entries(found)) {
  say(`${name}: ${(large / small).toFixed(2)} times the buffers`);
  isGood &&= large <= small * 1.5;
}
process.exit(isGood ? 0 : 1);
