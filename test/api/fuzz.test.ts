import type { AddressInfo } from 'node:net';
import { aCircuit, addPerson, anOrganisation, asSuperuser } from '../builders/world.js';
import { fuzz } from '../fuzz/fuzz.mjs';
import { PASSWORD, startApi, type TestApi } from '../support/api.js';
import { request } from '../support/shared.js';

let api: TestApi;
const cookies: Record<string, string> = {};
let ids: string[] = [];

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Fuzz');
  const world = await aCircuit(await api.as(organisation.emails.engineer), 'F');
  await addPerson(api, organisation, 'viewer', 'viewer', world.customerId);
  for (const [role, email] of Object.entries(organisation.emails)) {
    const response = await request(api.app.getHttpServer())
      .post('/api/v1/sessions')
      .send({ email, password: PASSWORD });
    cookies[role] = (response.get('Set-Cookie') ?? []).map((cookie) => cookie.split(';', 1)[0]).join('; ');
  }
  ids = Object.values(world).filter((value): value is string => typeof value === 'string');
  await api.app.listen(0, '127.0.0.1');
}, 120_000);
afterAll(() => api.stop());

describe('requests made from the description of the API', () => {
  it('1,500 of them, right and wrong, as every role and as nobody: no fault, and every refusal is a problem', async () => {
    const { port } = api.app.getHttpServer().address() as AddressInfo;
    const { statuses, faults } = await fuzz({ port, cookies, ids }, { requests: 1_500, seed: 20261128 });
    expect([...new Set(faults)].slice(0, 20)).toEqual([]);
    // It came through the door, not only up to it.
    expect(statuses['200'] ?? 0).toBeGreaterThan(50);
    expect(statuses['422'] ?? 0).toBeGreaterThan(100);
    const { rows } = await asSuperuser(api, (client) =>
      client.query('SELECT count(*)::int AS organisations FROM organisations'),
    );
    expect(rows).toEqual([{ organisations: 1 }]);
  }, 300_000);
});
