import { allRoutes } from '@repo/contracts';
import fc from 'fast-check';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
const clients = new Map<string, TestClient>();
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Rough');
  for (const role of ['engineer', 'administrator']) clients.set(role, await api.as(organisation.emails[role]));
  world = await aCircuit(clients.get('engineer') as TestClient, 'B1');
});
afterAll(() => api.stop());

const engineer = (): TestClient => clients.get('engineer') as TestClient;
const settings = (over: object) => ({
  id: uuidv7(),
  circuitId: world.circuitId,
  setting: { value: 170, unit: 'bar' },
  reason: 'test',
  afterRevision: 1,
  ...over,
});

/** Strings that break careless programs. */
const NASTY = [
  '',
  ' ',
  '\u0000',
  "'; DROP TABLE users; --",
  '${7*7}',
  '<script>alert(1)</script>',
  '../../etc/passwd',
  '\uD800',
  'a'.repeat(5000),
  '٣٤',
  '−5',
  '1e309',
  'NaN',
  '{"a":1}',
];

describe('bad input', () => {
  it.each([
    ['a unit of another kind', { setting: { value: 170, unit: 'mm' } }, 'setting.unit'],
    ['an unknown unit', { setting: { value: 170, unit: 'barr' } }, 'setting.unit'],
    ['text for a number', { setting: { value: '170', unit: 'bar' } }, 'setting.value'],
    ['below zero', { setting: { value: -1, unit: 'bar' } }, 'setting.value'],
    ['zero', { setting: { value: 0, unit: 'bar' } }, 'setting.value'],
    ['a size that cannot be', { setting: { value: 1e9, unit: 'bar' } }, 'setting.value'],
    ['nothing', { setting: null }, 'setting'],
    ['an unknown name', { settng: { value: 170, unit: 'bar' } }, 'settng'],
    ['a missing reason', { reason: '' }, 'reason'],
  ])('%s is refused, naming the field', async (_name, over, field) => {
    const { body } = await engineer().post('/target-settings', settings(over)).expect(422);
    expect(body.code).toBe('request.invalid');
    expect(body.errors.map((error: { field: string }) => error.field)).toContain(field);
    for (const error of body.errors)
      expect(Object.keys(error).sort()).toEqual(['code', 'field', 'got', 'needs', 'pointer']);
  });

  it('instants in the future, periods turned round and figures that a kind does not have are refused', async () => {
    const future = new Date(Date.now() + 3_600_000).toISOString();
    const fitting = { id: uuidv7(), fixtureId: world.fixtureId, stationId: world.stationId, validFrom: future };
    expect((await engineer().post('/fixture-fittings', fitting).expect(422)).body.errors[0].field).toBe('validFrom');
    const early = { ...fitting, id: uuidv7(), validFrom: '2001-01-01T00:00:00Z' };
    expect((await engineer().post('/fixture-fittings', early).expect(422)).body.errors[0].field).toBe('validFrom');
    const type = {
      id: uuidv7(),
      kind: 'hose',
      name: 'odd',
      figures: { pistonRatio: { value: 40, unit: '1', source: 's' } },
    };
    expect((await engineer().post('/component-types', type).expect(422)).body.errors[0].field).toBe(
      'figures.pistonRatio',
    );
  });

  it.each([
    ['in another century', '1850-05-04T00:00:00Z'],
    ['before the first year by the clock of UTC', '1900-01-01T00:00:00+14:00'],
    ['after the last year by the clock of UTC', '2200-12-31T23:59:00-11:00'],
  ])('an instant %s is refused by its field, and what is read next is answered', async (_name, at) => {
    const engineers = engineer();
    const copy = { id: uuidv7(), circuitId: world.circuitId, fittedFrom: at, reason: 'as there' };
    const copied = await engineers.post(`/circuits/${world.circuitId}/component-copies`, copy);
    expect([copied.status, copied.body.errors?.[0]?.field]).toEqual([422, 'fittedFrom']);
    const seen = { machineId: world.machineId, kind: 'inspected', personName: 'Test installer' };
    const event = { id: uuidv7(), ...seen, occurredAt: at, text: 'seen' };
    const written = await engineers.post('/service-events', event);
    expect([written.status, written.body.errors?.[0]?.field]).toEqual([422, 'occurredAt']);
    expect(written.body.errors[0].needs).toBe('a year from 1900 to 2200');
    await engineers.get(`/service-events?machineId=${world.machineId}`).expect(200);
    await engineers.get(`/installed-components?machineId=${world.machineId}`).expect(200);
  });

  it('whatever is sent anywhere, the answer is below 500, is a problem, and nothing is half-written', async () => {
    const before = await counts();
    const value = fc.oneof(
      fc.constantFrom(...NASTY),
      fc.integer(),
      fc.double(),
      fc.boolean(),
      fc.constant(null),
      fc.array(fc.integer(), { maxLength: 3 }),
      fc.record({
        value: fc.oneof(fc.double(), fc.constantFrom(...NASTY)),
        unit: fc.constantFrom('bar', 'mm', '', '\u0000'),
      }),
    );
    const names = [
      'id',
      'name',
      'customerId',
      'siteId',
      'machineId',
      'circuitId',
      'fixtureId',
      'setting',
      'figures',
      'elements',
      'reason',
      'validFrom',
      'stations',
      'email',
      'title',
      'kind',
      '__proto__',
      'constructor',
    ];
    const body = fc.dictionary(fc.constantFrom(...names), value, { maxKeys: 8 });
    const withBody = allRoutes.filter(
      (route) => route.method !== 'GET' && route.access !== 'public' && route.id !== 'endCurrentSession',
    );
    const route = fc.constantFrom(...withBody);
    await fc.assert(
      fc.asyncProperty(
        route,
        body,
        fc.constantFrom(world.machineId, uuidv7(), 'x', '%00', '..%2f..'),
        async (route, sent, id) => {
          const client = clients.get(
            Array.isArray(route.access) && !route.access.includes('engineer') ? 'administrator' : 'engineer',
          ) as TestClient;
          const headers = { 'if-match': '"v1"', 'idempotency-key': `"${uuidv7()}"` };
          const response = await client.call(route.method, route.path.replace('{id}', id), headers, sent);
          expect(response.status).toBeLessThan(500);
          if (response.status >= 400) expect(response.headers['content-type']).toContain('application/problem+json');
        },
      ),
      { numRuns: 400, seed: 20261125 },
    );
    expect(await counts()).toEqual(before);
  });

  it('whatever is asked of a list, the answer is below 500', async () => {
    const lists = allRoutes.filter(
      (route) => route.method === 'GET' && Array.isArray(route.access) && !route.path.includes('{id}'),
    );
    const queries = [
      '?limit=0',
      '?limit=x',
      '?cursor=%00',
      '?search=%00',
      '?search=%27%3B--',
      '?customerId=1',
      '?state=',
      '?x=1',
      '?limit=1&limit=2',
      '?asOn=yesterday',
      '?status=all&search=%F0%9F%94%A7',
      '?search=' + 'a'.repeat(80),
    ];
    for (const route of lists) {
      for (const query of queries) {
        const { status, text } = await engineer().get(`${route.path}${query}`);
        expect([route.path, query, status < 500, status < 500 ? '' : text]).toEqual([route.path, query, true, '']);
      }
    }
  });
});

/** Rows per table: what was refused must not have changed any. */
async function counts(): Promise<Record<string, number>> {
  return asSuperuser(api, async (client) => {
    const found: Record<string, number> = {};
    for (const table of [
      'customers',
      'sites',
      'machines',
      'stations',
      'circuits',
      'component_types',
      'installed_components',
      'fixtures',
      'operations',
      'target_settings',
      'setup_records',
      'memberships',
    ]) {
      const { rows } = await client.query(`SELECT count(*)::int AS n FROM ${table}`);
      found[table] = rows[0].n;
    }
    return found;
  });
}
