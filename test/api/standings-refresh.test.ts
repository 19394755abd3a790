import { setTimeout as delay } from 'node:timers/promises';
import type { Job, Standing, StandingCounts } from '@repo/contracts';
import { anOrganisation, asSuperuser } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { fillFleet } from '../support/fleet.mjs';

/** Up to so many circuits are computed within the request. */
const AT_ONCE = 200;
const MARGINS = {
  'holds-workpiece': 0.05,
  'no-nuisance-stop': 0.05,
  'setting-within-rating': 0.05,
  'highest-within-rating': 0.05,
  'workpiece-limit': 0.05,
};

let api: TestApi;
afterEach(() => api.stop());

/** An organisation whose circuits are said to hold, though nothing is known of them. */
async function aFleet(
  circuits: number,
  worker: 'inside' | 'off',
  overrides: Record<string, string> = {},
): Promise<TestClient> {
  api = await startApi({ WORKER: worker, ...overrides });
  const organisation = await anOrganisation(api, `Fleet of ${circuits}`);
  await fillFleet({ superuserUrl: api.db.superuserUrl, organisationId: organisation.id, machines: circuits });
  return api.as(organisation.emails.administrator);
}

async function changeMargins(client: TestClient): Promise<void> {
  const { body } = await client.get('/organisation').expect(200);
  const { version } = body as { version: number };
  await client.call('PATCH', '/organisation', { 'if-match': `"v${version}"` }, { marginsAsked: MARGINS }).expect(200);
}

const statuses = async (client: TestClient): Promise<Standing['status'][]> => {
  const { body } = await client.get('/circuits/standings?limit=200').expect(200);
  return [...new Set((body as { items: Standing[] }).items.map(({ status }) => status))].sort();
};
/** How many wait by the count, and by their own word. */
const awaiting = async (client: TestClient): Promise<[number, number]> => {
  const counts = await client.get('/circuits/standing-counts').expect(200);
  const { body } = await client.get('/circuits/standings?limit=200').expect(200);
  const marked = (body as { items: Standing[] }).items.filter(({ awaitsSince }) => awaitsSince !== null);
  return [(counts.body as StandingCounts).awaiting, marked.length];
};
const jobs = async (client: TestClient): Promise<Job[]> =>
  ((await client.get('/jobs?kind=standings-refresh').expect(200)).body as { items: Job[] }).items;

describe('A change that bears on many circuits', () => {
  it('computes them within the request while they are few enough', async () => {
    const client = await aFleet(AT_ONCE, 'off');
    await changeMargins(client);
    expect(await statuses(client)).toEqual(['unproven']);
    expect(await awaiting(client)).toEqual([0, 0]);
    expect(await jobs(client)).toEqual([]);
  });

  it('leaves them to a job where they are more: until then the standings are those before, and say so', async () => {
    const client = await aFleet(AT_ONCE + 1, 'off');
    await changeMargins(client);
    expect(await statuses(client)).toEqual(['fails', 'holds', 'marginal']);
    expect(await awaiting(client)).toEqual([AT_ONCE + 1, 200]);
    const [job] = await jobs(client);
    expect(job).toMatchObject({ state: 'queued', canCancel: false });
    // It follows from what is written: nobody can leave it undone.
    const refused = await client.post(`/jobs/${job?.id ?? ''}/cancel`).expect(409);
    expect(refused.body).toMatchObject({ code: 'request.conflict' });
  });

  it('has them all computed by the job', async () => {
    const client = await aFleet(AT_ONCE + 1, 'inside');
    await changeMargins(client);
    const until = Date.now() + 90_000;
    let [job] = await jobs(client);
    while (job?.state !== 'finished' && Date.now() < until) {
      await delay(200);
      [job] = await jobs(client);
    }
    expect(job).toMatchObject({ state: 'finished', result: { circuits: AT_ONCE + 1 } });
    expect(await statuses(client)).toEqual(['unproven']);
    expect(await awaiting(client)).toEqual([0, 0]);
  });

  it('is not needed where the calculations themselves have changed: what another version computed is computed anew', async () => {
    const client = await aFleet(3, 'inside', { STANDINGS_LOOK_MS: '200' });
    expect(await statuses(client)).toEqual(['holds', 'marginal']);
    await asSuperuser(api, (db) => db.query("UPDATE circuit_standings SET calculation_version = '0.9.0'"));
    const until = Date.now() + 60_000;
    while ((await statuses(client)).join() !== 'unproven' && Date.now() < until) await delay(100);
    expect(await statuses(client)).toEqual(['unproven']);
    const { rows } = await asSuperuser(api, (db) => db.query('SELECT calculation_version FROM circuit_standings'));
    for (const row of rows as { calculation_version: string }[]) expect(row.calculation_version).not.toBe('0.9.0');
  });

  it('enqueues nothing when the change itself is refused', async () => {
    const client = await aFleet(AT_ONCE + 1, 'off');
    await client.call('PATCH', '/organisation', { 'if-match': '"v999"' }, { marginsAsked: MARGINS }).expect(412);
    expect(await jobs(client)).toEqual([]);
    const queued = await asSuperuser(api, (db) => db.query('SELECT 1 FROM graphile_worker._private_jobs'));
    expect(queued.rowCount).toBe(0);
  });
});
