import { allRoutes, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
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
let organisation: Organisation;
let world: CircuitWorld;
let administrator: TestClient;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Keys');
  world = await aCircuit(await api.as(organisation.emails.engineer), 'K');
  administrator = await api.as(organisation.emails.administrator);
});
afterAll(() => api.stop());

interface Made {
  id: string;
  secret: string;
  version: number;
}
async function aKey(more: object = {}, by = administrator): Promise<Made> {
  const body = { id: uuidv7(), name: `Key ${uuidv7()}`, role: 'engineer', areas: ['machines', 'customers'], ...more };
  const answer = await by.post('/api-keys', body).expect(201);
  return answer.body as Made;
}
const asProgram = (secret: string, method: 'get' | 'post' | 'patch' | 'delete', path: string) =>
  request(api.app.getHttpServer())[method](`/api/v1${path}`).set('authorization', `Bearer ${secret}`);

describe('a key', () => {
  it('reads what it was made for, and nothing else', async () => {
    const { secret } = await aKey();
    const { body } = await asProgram(secret, 'get', '/machines').expect(200);
    expect(body.items.map((one: { id: string }) => one.id)).toContain(world.machineId);
    expect((await asProgram(secret, 'get', '/issues').expect(403)).body.code).toBe('session.role');
    const customer = { id: uuidv7(), name: 'By a program' };
    const write = () => asProgram(secret, 'post', '/customers').set('idempotency-key', `"${uuidv7()}"`).send(customer);
    expect((await write().expect(403)).body.code).toBe('session.role');
  });

  it('that may write does so in its own name, laid to whoever vouches for it', async () => {
    const { secret } = await aKey({ mayWrite: true, name: 'Planning' });
    const id = uuidv7();
    await asProgram(secret, 'post', '/customers')
      .set('idempotency-key', '"by-a-program"')
      .send({ id, name: 'By a program' })
      .expect(201);
    const { body } = await administrator.get(`/audit-entries?entity=customer&entityId=${id}`).expect(200);
    expect(body.items[0].actorName).toBe('key Planning');
  });

  it('never comes to what asks for a person: no route with proof, of the account, or in the background', async () => {
    const areas = [...new Set(allRoutes.map(({ area }) => area))];
    const { id } = await aKey({ mayWrite: true });
    // Past the product, every area there is: what is refused now is refused by the rule, not by the list.
    await asSuperuser(api, (client) => client.query('UPDATE api_keys SET areas = $1 WHERE id = $2', [areas, id]));
    const { body: rotated } = await administrator.post(`/api-keys/${id}/secrets`, {}).expect(201);
    const closed = allRoutes.filter(
      (route: Route) => route.access === 'person' || route.recentProof === true || route.job === true,
    );
    expect(closed.length).toBeGreaterThan(20);
    for (const { method, path } of closed) {
      const address = path.replace(/\{\w+\}/g, uuidv7());
      const verb = method.toLowerCase() as 'get' | 'post' | 'patch' | 'delete';
      const { status } = await asProgram(rotated.secret, verb, address);
      expect([method, path, status]).toEqual([method, path, 403]);
    }
  });

  it('cannot be made an administrator, nor for what its role cannot do', async () => {
    const body = { id: uuidv7(), name: 'X', role: 'administrator', areas: ['machines'] };
    await administrator.post('/api-keys', body).expect(422);
    const { body: problem } = await administrator
      .post('/api-keys', { ...body, role: 'lead', areas: ['machines', 'memberships', 'api-keys'] })
      .expect(422);
    expect(problem.errors[0].field).toBe('areas');
    await (await api.as(organisation.emails.engineer)).post('/api-keys', { ...body, role: 'lead' }).expect(403);
  });

  it('is shown once and kept as a hash', async () => {
    const { id, secret } = await aKey();
    expect((await administrator.get(`/api-keys/${id}`).expect(200)).text).not.toContain(secret);
    const dump = await asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ row: string }>(
        'SELECT s::text AS row FROM api_key_secrets s UNION ALL SELECT e::text FROM audit_entries e UNION ALL SELECT i::text FROM idempotency_keys i',
      );
      return rows.map(({ row }) => row).join('\n');
    });
    expect(dump.length).toBeGreaterThan(200);
    expect(dump).not.toContain(secret);
    expect(dump).not.toContain(Buffer.from(secret).toString('hex'));
  });

  it('changes over with two secrets live, never three, and says when it was last used', async () => {
    const { id, secret: first } = await aKey();
    const rotate = async () =>
      (await administrator.post(`/api-keys/${id}/secrets`, { overlapHours: 1 }).expect(201)).body;
    const second = await rotate();
    await asProgram(first, 'get', '/machines').expect(200);
    await asProgram(second.secret, 'get', '/machines').expect(200);
    const third = await rotate();
    expect(third.secrets).toHaveLength(2);
    await asProgram(first, 'get', '/machines').expect(401);
    await asProgram(second.secret, 'get', '/machines').expect(200);
    expect((await administrator.get(`/api-keys/${id}`)).body.lastUsedAt).not.toBeNull();
    await administrator.post(`/api-keys/${id}/secrets`, { overlapHours: 0 }).expect(201);
    await asProgram(third.secret, 'get', '/machines').expect(401);
  });

  it('ends when it is ended, and stays ended when it is brought back', async () => {
    const { id, secret, version } = await aKey();
    await administrator.patch(`/api-keys/${id}`, version, { archived: true }).expect(200);
    await asProgram(secret, 'get', '/machines').expect(401);
    await administrator.patch(`/api-keys/${id}`, version + 1, { archived: false }).expect(200);
    await asProgram(secret, 'get', '/machines').expect(401);
  });

  it('of somebody who left is worth nothing until another administrator vouches for it', async () => {
    await addPerson(api, organisation, 'leaver', 'administrator', null);
    const { id, secret } = await aKey({}, await api.as(organisation.emails.leaver));
    await asProgram(secret, 'get', '/machines').expect(200);
    await administrator.patch(`/memberships/${organisation.memberships.leaver}`, 1, { archived: true }).expect(200);
    await asProgram(secret, 'get', '/machines').expect(401);
    expect((await administrator.get(`/api-keys/${id}`)).body.isLive).toBe(false);
    const { body } = await administrator.post(`/api-keys/${id}/secrets`, { overlapHours: 0 }).expect(201);
    await asProgram(body.secret, 'get', '/machines').expect(200);
  });

  it('that nobody made is refused like no session', async () => {
    expect((await asProgram('kedge_key_nobody', 'get', '/machines').expect(401)).body.code).toBe('session.needed');
    expect((await asProgram('x', 'get', '/machines').expect(401)).body.code).toBe('session.needed');
  });
});
