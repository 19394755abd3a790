/**
 * How long an import of 50,000 rows takes, step by step, as a person would drive it: sent, read, tried, committed, sent again
 * (nothing changes), undone. One flat sheet: every row names a component, its circuit and all that they hang on.
 * `npm run bench:import -- ROWS xlsx` for another size or a workbook.
 */
import { randomUUID } from 'node:crypto';
import { setTimeout as delay } from 'node:timers/promises';
import { createApp } from '@repo/api/app';
import { readEnv } from '@repo/api/env';
import { withConnection } from '@repo/launcher/connection';
import { hash } from '@node-rs/argon2';
import ExcelJS from 'exceljs';
import { createDatabase, startTestDatabase } from '../support/database.mjs';

const ROWS = Number(process.argv[2] ?? 50_000);
const IS_WORKBOOK = process.argv[3] === 'xlsx';
const PER_CIRCUIT = 5;
const PASSWORD = 'a password for the benchmark';
const MARGINS = {
  'holds-workpiece': 0.03,
  'no-nuisance-stop': 0.02,
  'setting-within-rating': 0.03,
  'highest-within-rating': 0,
  'workpiece-limit': 0.02,
};
const HEADERS = [
  ...['Customer', 'Site', 'Place', 'Time zone', 'Machine', 'Form', 'Way in', 'Station', 'Power unit', 'Drive'],
  ...['Circuit', 'Designation', 'Component type', 'Serial', 'Installed from', 'Setting', 'Switch set point [psi]'],
  ...['Measured at', 'Measured by', 'Report', 'Reason'],
];

/** @param {string} text */
const say = (text) => process.stdout.write(`${text}\n`);

/** @param {number} count */
function* makeRows(count) {
  for (let n = 0; n < count; n += 1) {
    const circuit = Math.floor(n / PER_CIRCUIT);
    const machine = Math.floor(circuit / 2);
    yield [
      ...[`Customer ${machine % 40}`, `Site ${machine % 120}`, 'Braga', 'Europe/Lisbon', `MC ${machine}`, 'pallets'],
      ...['rotary-union', `Pallet ${circuit % 2}`, 'HPU', 'air', `Clamp ${circuit % 2}`],
      ...[`H${circuit % 2}.${n % PER_CIRCUIT}`, `Hose ${n % 7}`, `S-${n}`, '2024-05-06', '175 bar', '2100'],
      ...['2024-05-07', 'Bench', `R-${circuit}`, 'installed base'],
    ];
  }
}

async function makeFile() {
  if (!IS_WORKBOOK) return Buffer.from([HEADERS, ...makeRows(ROWS)].map((row) => row.join(';')).join('\r\n'));
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet('Installed base');
  sheet.addRow(HEADERS);
  for (const row of makeRows(ROWS)) sheet.addRow(row);
  return Buffer.from(await workbook.xlsx.writeBuffer());
}

/** @param {string} superuserUrl */
async function makeOrganisation(superuserUrl) {
  const [organisationId, userId] = [randomUUID(), randomUUID()];
  const passwordHash = await hash(PASSWORD);
  await withConnection(superuserUrl, async (client) => {
    await client.query('INSERT INTO organisations (id, name, margins_asked) VALUES ($1, $2, $3)', [
      organisationId,
      'Bench',
      JSON.stringify(MARGINS),
    ]);
    await client.query('INSERT INTO users (id, email, display_name, password_hash) VALUES ($1, $2, $3, $4)', [
      userId,
      'engineer@bench.example',
      'Engineer',
      passwordHash,
    ]);
    await client.query(
      `INSERT INTO memberships (organisation_id, id, user_id, role, display_name) VALUES ($1, $2, $3, 'engineer', 'E')`,
      [organisationId, randomUUID(), userId],
    );
    for (let n = 0; n < 7; n += 1) {
      await client.query(
        `INSERT INTO component_types (organisation_id, id, kind, name, figures) VALUES ($1, $2, 'hose', $3, $4)`,
        [
          organisationId,
          randomUUID(),
          `Hose ${n}`,
          { ratedPressure: { value: 350, unit: 'bar', source: 'bench, invented', si: 35e6 } },
        ],
      );
    }
  });
}

const server = await startTestDatabase();
const db = await createDatabase();
await makeOrganisation(db.superuserUrl);
const app = await createApp(
  readEnv({
    DATABASE_URL: db.appUrl,
    DATABASE_GATE_URL: db.gateUrl,
    APP_SECRET: 'a secret of the benchmark, long enough',
    LOG_LEVEL: 'error',
    RATE_LIMIT: '1000000',
  }),
);
await app.listen(0, '127.0.0.1');
const base = `${await app.getUrl()}/api/v1`;
let cookie = '';

/**
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 * @returns {Promise<any>}
 */
async function call(method, path, body) {
  const isBytes = body instanceof Uint8Array;
  const answer = await fetch(`${base}${path}`, {
    method,
    headers: {
      cookie,
      'idempotency-key': `"${randomUUID()}"`,
      ...(body === undefined ? {} : { 'content-type': isBytes ? 'application/octet-stream' : 'application/json' }),
    },
    body: body === undefined ? undefined : isBytes ? Buffer.from(body) : JSON.stringify(body),
  });
  cookie = answer.headers.getSetCookie()[0]?.split(';', 1)[0] ?? cookie;
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
  return text === '' ? null : JSON.parse(text);
}

/**
 * @param {string} what
 * @param {string} jobId
 */
async function untilEnd(what, jobId) {
  const begun = performance.now();
  const steps = new Map();
  for (;;) {
    const job = await call('GET', `/jobs/${jobId}`);
    if (!steps.has(job.step)) steps.set(job.step, Math.round(performance.now() - begun));
    if (job.state === 'finished') {
      const seconds = (performance.now() - begun) / 1000;
      const begins = [...steps].map(([step, at]) => `${step || 'waiting'} ${(at / 1000).toFixed(1)}`).join(', ');
      say(`${what.padEnd(12)} ${seconds.toFixed(1)} s   (${begins})   ${JSON.stringify(job.result)}`);
      return seconds;
    }
    if (job.state !== 'queued' && job.state !== 'running') throw new Error(`${what}: ${JSON.stringify(job.problem)}`);
    await delay(100);
  }
}

const bytes = await makeFile();
say(`${ROWS} rows, ${(bytes.length / 1e6).toFixed(1)} MB ${IS_WORKBOOK ? 'XLSX' : 'CSV'}`);
await call('POST', '/sessions', { email: 'engineer@bench.example', password: PASSWORD });

/** @param {string} name */
async function send(name) {
  const id = randomUUID();
  await call('POST', '/imports', { id, fileName: name });
  const read = await untilEnd('read', (await call('POST', `/imports/${id}/file`, bytes)).id);
  const check = await untilEnd('trial', (await call('POST', `/imports/${id}/check`)).id);
  return { id, seconds: read + check };
}

const first = await send('first');
const commit = await untilEnd('commit', (await call('POST', `/imports/${first.id}/commit`, {})).id);
const follow = (await call('GET', '/jobs?kind=standings-refresh&limit=1')).items[0];
say(`in all       ${(first.seconds + commit).toFixed(1)} s from file to installed base`);
if (follow !== undefined) await untilEnd('standings', follow.id);
const again = await send('again');
await untilEnd('commit again', (await call('POST', `/imports/${again.id}/commit`, {})).id);
await untilEnd('undo', (await call('POST', `/imports/${first.id}/undo`)).id);
say(`memory       ${Math.round(process.memoryUsage().rss / 1e6)} MB at the end, API and worker in one process`);
await app.close();
await server.stop();
