import { anOrganisation, asSuperuser } from '../builders/world.js';
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

/** Blocks of the tables that a search of machines may look through. */
const blocksOf = (api: TestApi): Promise<number> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ blocks: number }>(
      `SELECT sum(pg_relation_size(name::regclass) / current_setting('block_size')::int)::int AS blocks
       FROM unnest('{machines,sites,customers}'::text[]) name`,
    );
    return rows[0]?.blocks ?? 0;
  });

describe('a search of machines looks through them once at most, and asks nothing anew for each', () => {
  it.each([
    ['one word of a name', 'vmc-000900'],
    ['words of its customer and of its name', 'customer 0007 vmc-0'],
    ['words of its site and of its customer, page by page', 'works 0199'],
    ['what is nowhere', 'nowhere at all'],
  ])('%s', async (_name, search) => {
    const [, large = 0] = await measure(() => `/machines?limit=20&search=${encodeURIComponent(search)}`);
    const blocks = await blocksOf(apis[1] as TestApi);
    expect(blocks).toBeGreaterThan(400);
    // Of those that are found, stations, site and customer are read.
    expect(large).toBeLessThanOrEqual(blocks + 300);
  });
});

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
