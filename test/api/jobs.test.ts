import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type { Job } from '@repo/contracts';
import pg from 'pg';
import { uuidv7 } from 'uuidv7';
import { addPerson, aCircuit, anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { readEnv } from '../support/shared.js';

const WORKER = fileURLToPath(new URL('../support/job-worker.mjs', import.meta.url));
const SECRET = 'a secret of at least thirty-two bytes for tests';
/** A worker that believes sooner than in real life that another one is dead. */
const HASTY = { WORKER_LOOK_MS: '250', WORKER_GRACE_MS: '2000' };
/** One that hands a job back sooner. */
const IMPATIENT = { WORKER_FINISH_MS: '1000' };

let api: TestApi;
let home: Organisation;
let engineer: TestClient;
let other: TestClient;
let client: pg.Client;
let marksFile: string;
interface Worker {
  child: ChildProcess;
  waits: Record<string, string>;
}
/** Starting one takes longer than what most tests do with it: it goes on from one test to the next. */
let workers: Worker[] = [];

const marks = (word: string, id: string): string[] =>
  readFileSync(marksFile, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith(`${word} ${id} `));

/** @param waits how long it waits, where that is not the default */
async function startWorker(waits: Record<string, string> = {}): Promise<Worker> {
  const child = spawn(process.execPath, [WORKER], {
    env: {
      ...process.env,
      DATABASE_URL: api.db.appUrl,
      DATABASE_GATE_URL: api.db.gateUrl,
      APP_SECRET: SECRET,
      LOG_LEVEL: 'silent',
      MARKS_FILE: marksFile,
      // One for any job, one for short ones.
      WORKER_JOBS: '2',
      ...waits,
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const worker = { child, waits };
  workers.push(worker);
  await once(child.stdout, 'data');
  return worker;
}

const isRunning = ({ child }: Worker): boolean => child.exitCode === null && child.signalCode === null;

async function stopWorker(worker: Worker, signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM'): Promise<void> {
  if (!isRunning(worker)) return;
  const exit = once(worker.child, 'exit');
  worker.child.kill(signal);
  await exit;
}

/** The only worker: one that an earlier test has left, if it waits as is asked for here, or a new one. */
async function oneWorker(waits: Record<string, string> = {}): Promise<Worker> {
  const waitsSo = (worker: Worker): boolean =>
    Object.entries(waits).every(([name, value]) => worker.waits[name] === value);
  const left = workers.find((worker) => isRunning(worker) && waitsSo(worker));
  await stopAllBut(left);
  return left ?? startWorker(waits);
}

async function stopAllBut(kept?: Worker): Promise<void> {
  await Promise.all(workers.filter((worker) => worker !== kept).map((worker) => stopWorker(worker)));
  workers = kept === undefined ? [] : [kept];
}

/** As the request does it: the row, in a transaction; the trigger enqueues. */
async function enqueue(kind: string, parameters: object = {}, isShort = false): Promise<string> {
  const id = uuidv7();
  await client.query(
    `INSERT INTO jobs (organisation_id, id, kind, parameters, is_short, requested_by)
     SELECT $1, $2, $3, $4, $5, id FROM memberships WHERE organisation_id = $1 AND role = 'engineer' LIMIT 1`,
    [home.id, id, kind, parameters, isShort],
  );
  return id;
}

async function waitFor(id: string, states: Job['state'][], withinS = 90): Promise<Job> {
  const until = Date.now() + withinS * 1000;
  for (;;) {
    const { body } = await engineer.get(`/jobs/${id}`).expect(200);
    const job = body as Job;
    if (states.includes(job.state)) return job;
    if (Date.now() > until) throw new Error(`job is ${job.state} after ${withinS} s: ${JSON.stringify(job.problem)}`);
    await delay(100);
  }
}

/** Waits until the task of a running job has begun: it is claimed a moment before. */
async function waitUntilBegun(id: string): Promise<void> {
  await waitFor(id, ['running']);
  const until = Date.now() + 60_000;
  while (marks('begin', id).length === 0) {
    if (Date.now() > until) throw new Error('the job is claimed and does not begin');
    await delay(20);
  }
}

beforeAll(async () => {
  api = await startApi();
  home = await anOrganisation(api, 'Jobs');
  engineer = await api.as(home.emails.engineer);
  const elsewhere = await anOrganisation(api, 'Elsewhere');
  other = await api.as(elsewhere.emails.engineer);
  client = new pg.Client({ connectionString: api.db.superuserUrl });
  await client.connect();
  marksFile = path.join(mkdtempSync(path.join(tmpdir(), 'kedge-jobs-')), 'marks');
  writeFileSync(marksFile, '');
});
afterAll(async () => {
  await stopAllBut();
  await client.end();
  await api.stop();
});

describe('a job', () => {
  it('is in the queue when its transaction commits, and nowhere when it is rolled back', async () => {
    const queued = async (): Promise<number> =>
      Number((await client.query('SELECT count(*) AS n FROM graphile_worker._private_jobs')).rows[0].n);
    const before = await queued();
    await client.query('BEGIN');
    const id = await enqueue('test-mark');
    await client.query('ROLLBACK');
    await engineer.get(`/jobs/${id}`).expect(404);
    expect(await queued()).toBe(before);
    const kept = await enqueue('test-mark');
    expect(await queued()).toBe(before + 1);
    await oneWorker();
    expect(await waitFor(kept, ['finished'])).toMatchObject({ progress: 1, attempts: 1 });
    expect(await queued()).toBe(before);
  });

  it('shows its progress, and its result is kept', async () => {
    await oneWorker();
    const id = await enqueue('test-slow', { steps: 12 });
    const running = await waitFor(id, ['running']);
    expect(running).toMatchObject({ requestedByName: 'Test engineer', canCancel: true });
    const job = await waitFor(id, ['finished']);
    expect(job).toMatchObject({ result: { counted: 12 }, problem: null, canCancel: false });
    const { body } = await engineer.get('/jobs?limit=1').expect(200);
    expect(body.items).toHaveLength(1);
    expect(body.items[0].id).toBe(id);
    expect(body.nextCursor).not.toBeNull();
  });

  it('that is short never waits for long ones, however many there are and whoever asked for them', async () => {
    await oneWorker();
    const long: string[] = [];
    for (let n = 0; n < 3; n += 1) long.push(await enqueue('test-slow', { steps: 40 }));
    const [first = ''] = long;
    await waitUntilBegun(first);
    const short = await enqueue('test-mark', {}, true);
    await waitFor(short, ['finished'], 3);
    const states = await Promise.all(long.map(async (id) => ((await engineer.get(`/jobs/${id}`)).body as Job).state));
    expect(states).toEqual(['running', 'queued', 'queued']);
    for (const id of long) await engineer.post(`/jobs/${id}/cancel`).expect(200);
    await waitFor(first, ['cancelled'], 10);
  });

  it('says when it ended, not when its last transaction began', async () => {
    await oneWorker();
    const id = await enqueue('test-long-end');
    const job = await waitFor(id, ['finished']);
    const [, , , at] = String(marks('end', id)[0]).split(' ');
    expect(Date.parse(job.finishedAt ?? '')).toBeGreaterThanOrEqual(Number(at));
  });

  it('is taken up again within a minute when its worker is killed', async () => {
    const first = await oneWorker();
    const id = await enqueue('test-slow', { steps: 20 });
    await waitUntilBegun(id);
    await stopWorker(first, 'SIGKILL');
    const killedAt = Date.now();
    await oneWorker({ ...HASTY, ...IMPATIENT });
    const job = await waitFor(id, ['finished'], 58);
    expect(Date.now() - killedAt).toBeLessThan(60_000);
    expect(job).toMatchObject({ attempts: 2, result: { counted: 20 } });
    expect(marks('begin', id)).toHaveLength(2);
    expect(marks('end', id)).toHaveLength(1);
  }, 90_000);

  it('waits well under a minute for a dead worker, and lets a running job finish for less than ten seconds, where nobody says otherwise', () => {
    const env = readEnv({ DATABASE_URL: api.db.appUrl, DATABASE_GATE_URL: api.db.gateUrl, APP_SECRET: SECRET });
    expect(env.WORKER_GRACE_MS + env.WORKER_LOOK_MS).toBeLessThan(40_000);
    expect(env.WORKER_FINISH_MS).toBeLessThan(10_000);
  });

  it('is handed back when its worker is asked to end, and finished by another', async () => {
    const first = await oneWorker(IMPATIENT);
    const id = await enqueue('test-slow', { steps: 40 });
    await waitUntilBegun(id);
    const at = Date.now();
    await stopWorker(first, 'SIGTERM');
    expect(Date.now() - at).toBeLessThan(11_000);
    expect(await waitFor(id, ['queued'])).toMatchObject({ attempts: 0 });
    const second = await oneWorker();
    // The try that was handed back does not count.
    expect(await waitFor(id, ['finished'])).toMatchObject({ attempts: 1, result: { counted: 40 } });
    const pidsOf = (word: string): (string | undefined)[] => marks(word, id).map((line) => line.split(' ')[2]);
    expect(pidsOf('begin')).toEqual([String(first.child.pid), String(second.child.pid)]);
    expect(pidsOf('end')).toEqual([String(second.child.pid)]);
  });

  it('stops when it is cancelled; a cancelled one that waits never begins', async () => {
    await oneWorker();
    const id = await enqueue('test-slow', { steps: 300 });
    await waitUntilBegun(id);
    const waiting = await enqueue('test-slow', { steps: 5 });
    expect((await engineer.post(`/jobs/${waiting}/cancel`).expect(200)).body).toMatchObject({ state: 'cancelled' });
    await engineer.post(`/jobs/${id}/cancel`).expect(200);
    await waitFor(id, ['cancelled'], 10);
    await engineer.post(`/jobs/${id}/cancel`).expect(409);
    expect(marks('end', id)).toEqual([]);
    // What comes after it is done, so that its turn is over.
    await waitFor(await enqueue('test-slow', { steps: 1 }), ['finished']);
    expect(marks('begin', waiting)).toEqual([]);
  });

  it('is done once, however many workers there are', async () => {
    await oneWorker();
    await startWorker();
    const ids: string[] = [];
    for (let n = 0; n < 30; n += 1) ids.push(await enqueue('test-mark'));
    for (const id of ids) await waitFor(id, ['finished']);
    for (const id of ids) expect(marks('mark', id)).toHaveLength(1);
    const pids = new Set(ids.flatMap((id) => marks('mark', id).map((line) => line.split(' ')[2])));
    expect(pids.size).toBe(2);
  });

  it('of a person who may do nothing here any more fails and says so', async () => {
    await addPerson(api, home, 'gone', 'lead', null);
    const gone = home.memberships.gone;
    const id = uuidv7();
    // At once: a worker that an earlier test has left takes what it sees.
    await client.query('BEGIN');
    await client.query(`INSERT INTO jobs (organisation_id, id, kind, requested_by) VALUES ($1, $2, 'test-mark', $3)`, [
      home.id,
      id,
      gone,
    ]);
    await client.query('UPDATE memberships SET archived_at = now() WHERE id = $1', [gone]);
    await client.query('COMMIT');
    await oneWorker();
    expect(await waitFor(id, ['failed'])).toMatchObject({ problem: { code: 'session.role' } });
    expect(marks('mark', id)).toEqual([]);
  });

  it('computes anew the circuits that wait', async () => {
    const world = await aCircuit(engineer, 'Refreshed');
    const standing = async () => {
      const text = 'SELECT status, awaits_since FROM circuit_standings WHERE circuit_id = $1';
      return (await client.query(text, [world.circuitId])).rows[0] as object;
    };
    const computed = await standing();
    await client.query(
      "UPDATE circuit_standings SET status = 'fails', awaits_since = now() - interval '1 minute' WHERE circuit_id = $1",
      [world.circuitId],
    );
    await oneWorker();
    const id = await enqueue('standings-refresh', {});
    expect(await waitFor(id, ['finished'])).toMatchObject({ result: { circuits: 1 } });
    expect(await standing()).toEqual(computed);
  });

  it('of another organisation is not there; only its requester or an administrator cancels it', async () => {
    await stopAllBut();
    const id = await enqueue('test-slow', { steps: 1 });
    await other.get(`/jobs/${id}`).expect(404);
    await other.post(`/jobs/${id}/cancel`).expect(404);
    expect((await other.get('/jobs').expect(200)).body.items).toEqual([]);
    const refused = await (await api.as(home.emails.installer)).post(`/jobs/${id}/cancel`).expect(409);
    expect(refused.body.code).toBe('job.not-yours');
    await (await api.as(home.emails.administrator)).post(`/jobs/${id}/cancel`).expect(200);
  });

  it('cannot be enqueued by a request for anything but a row that it wrote', async () => {
    const login = new pg.Client({ connectionString: api.db.appUrl });
    await login.connect();
    try {
      await login.query('SET ROLE org_staff');
      for (const text of [
        `SELECT graphile_worker.add_job('job', '{}')`,
        'SELECT queue.enqueue_job()',
        'SELECT count(*) FROM graphile_worker._private_jobs',
      ]) {
        await expect(login.query(text)).rejects.toThrow(/permission denied/);
      }
    } finally {
      await login.end();
    }
  });
});
