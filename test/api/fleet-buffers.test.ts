import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { buffersPerCall, fillFleet } from '../support/fleet.mjs';

const SMALL = 1_000;
const LARGE = 20_000;
const apis: TestApi[] = [];
const clients: TestClient[] = [];

beforeAll(async () => {
  for (const machines of [SMALL, LARGE]) {
    const api = await startApi();
    apis.push(api);
    const organisation = await anOrganisation(api, `Fleet of ${machines}`);
    await fillFleet({ superuserUrl: api.db.superuserUrl, organisationId: organisation.id, machines });
    clients.push(await api.as(organisation.emails.lead));
  }
});
afterAll(async () => {
  for (const api of apis) await api.stop();
});

const measure = async (path: (client: TestClient) => Promise<string> | string): Promise<number[]> => {
  const found: number[] = [];
  for (const [index, client] of clients.entries()) {
    const api = apis[index] as TestApi;
    const url = await path(client);
    const measured = await buffersPerCall({ superuserUrl: api.db.superuserUrl, calls: 20 }, () =>
      client.get(url).expect(200),
    );
    found.push(measured.buffers);
  }
  return found;
};

/** A cursor in the middle of the list. */
const deep = async (client: TestClient): Promise<string> => {
  let path = '/circuits/standings?limit=200';
  for (let page = 0; page < 4; page += 1) {
    const { body } = await client.get(path).expect(200);
    path = `/circuits/standings?limit=200&cursor=${encodeURIComponent(body.nextCursor)}`;
  }
  return path.replace('limit=200', 'limit=50');
};

describe('the fleet page costs the same however large the fleet', () => {
  it.each([
    ['the first page', () => '/circuits/standings'],
    ['a page far down', deep],
    ['what needs somebody', () => '/circuits/standings?status=need&limit=20'],
    ['the counts', () => '/circuits/standing-counts'],
    ['one machine by its name', () => '/circuits/standings?search=vmc-000900'],
  ])('%s', async (_name, path) => {
    const [small = 0, large = 0] = await measure(path);
    expect(small).toBeGreaterThan(2);
    // An index may be one level deeper: a few blocks, never in proportion to the rows.
    expect(large).toBeLessThanOrEqual(small * 1.1 + 8);
  });
});
