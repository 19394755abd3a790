import { uuidv7 } from 'uuidv7';
import pg from 'pg';
import {
  aCircuit,
  addPerson,
  anOrganisation,
  asSuperuser,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { request } from '../support/shared.js';

let api: TestApi;
let a: Organisation;
let b: Organisation;
let world: CircuitWorld;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ DATABASE_POOL: '4' });
  [a, b] = [await anOrganisation(api, 'A'), await anOrganisation(api, 'B')];
  engineer = await api.as(a.emails.engineer);
  world = await aCircuit(engineer, 'W1');
});
afterAll(() => api.stop());

describe('a row that somebody holds', () => {
  it('keeps its writers waiting, and neither readers nor readiness; then they are told to come again', async () => {
    const holder = new pg.Client({ connectionString: api.db.superuserUrl });
    await holder.connect();
    await holder.query('BEGIN');
    await holder.query('SELECT 1 FROM customers WHERE id = $1 FOR UPDATE', [world.customerId]);
    const { body } = await engineer.get(`/customers/${world.customerId}`).expect(200);
    const writers = Array.from({ length: 12 }, (_, index) =>
      engineer.patch(`/customers/${world.customerId}`, body.version, { note: `n${index}` }).then((answer) => answer),
    );
    await new Promise((resolve) => setTimeout(resolve, 300));
    const began = Date.now();
    for (let round = 0; round < 10; round += 1) {
      await engineer.get(`/customers/${world.customerId}`).expect(200);
      await request(api.app.getHttpServer()).get('/ready').expect(200);
    }
    expect(Date.now() - began).toBeLessThan(3_000);
    const first = await Promise.race(writers);
    expect([first.status, Number(first.headers['retry-after']) > 0]).toEqual([503, true]);
    await holder.query('COMMIT');
    await holder.end();
    const statuses = (await Promise.all(writers)).map(({ status }) => status);
    expect(statuses.filter((status) => ![200, 412, 503].includes(status))).toEqual([]);
    await engineer.get(`/customers/${world.customerId}`).expect(200);
  }, 60_000);
});

describe('readers of one person', () => {
  it('in dozens, who all wait for the database, keep neither a colleague nor a stranger nor readiness waiting', async () => {
    const holder = new pg.Client({ connectionString: api.db.superuserUrl });
    await holder.connect();
    const [colleague, stranger] = [await api.as(a.emails.lead), await api.as(b.emails.engineer)];
    await holder.query('BEGIN');
    await holder.query('LOCK TABLE circuits IN ACCESS EXCLUSIVE MODE');
    const readers = Array.from({ length: 150 }, () => engineer.get('/circuits').then((answer) => answer));
    await new Promise((resolve) => setTimeout(resolve, 500));
    const began = Date.now();
    for (const client of [colleague, stranger, colleague, stranger]) await client.get('/customers').expect(200);
    await request(api.app.getHttpServer()).get('/ready').expect(200);
    expect(Date.now() - began).toBeLessThan(3_000);
    await holder.query('COMMIT');
    await holder.end();
    const statuses = new Set((await Promise.all(readers)).map(({ status }) => status));
    // Those for whom there was no room are told that it is of their own doing.
    expect([...statuses].sort()).toEqual([200, 429]);
  }, 60_000);
});

describe('reading', () => {
  it('is done in transactions that can write nothing', async () => {
    const { rows } = await asSuperuser(api, async (client) => {
      await client.query('BEGIN');
      await client.query(`SELECT set_config('transaction_read_only', 'on', true)`);
      return client.query('SHOW transaction_read_only');
    });
    expect(rows).toEqual([{ transaction_read_only: 'on' }]);
  });
});

describe('jobs of one person', () => {
  it('in hundreds delay another person, or another organisation, by one job at the most', async () => {
    await addPerson(api, a, 'busy', 'engineer', null);
    const start = (client: TestClient) => client.post('/exports', { table: 'customers', format: 'csv' }).expect(202);
    const busy = await api.as(a.emails.busy);
    for (let round = 0; round < 300; round += 1) await start(busy);
    const colleague = (await start(await api.as(a.emails.lead))).body.id as string;
    const stranger = (await start(await api.as(b.emails.engineer))).body.id as string;
    const { rows } = await asSuperuser(api, (client) =>
      client.query<{ id: string }>(
        `SELECT payload ->> 'jobId' AS id FROM graphile_worker._private_jobs ORDER BY priority, run_at, id`,
      ),
    );
    const order = rows.map(({ id }) => id);
    expect(order.length).toBe(302);
    expect(order.indexOf(stranger)).toBeLessThanOrEqual(1);
    expect(order.indexOf(colleague)).toBeLessThanOrEqual(3);
    expect(uuidv7()).not.toBe(stranger);
  }, 60_000);
});
