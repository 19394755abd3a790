import { uuidv7 } from 'uuidv7';
import {
  aCircuit,
  addPerson,
  anOrganisation,
  asSuperuser,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
import { PASSWORD, SESSION_COOKIE, startApi, type TestApi } from '../support/api.js';
import { request } from '../support/shared.js';

let api: TestApi;
let organisation: Organisation;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'People');
  world = await aCircuit(await api.as(organisation.emails.engineer), 'P1');
  await addPerson(api, organisation, 'viewer', 'viewer', world.customerId);
});
afterAll(() => api.stop());

const signIn = (email: string, password: string) =>
  request(api.app.getHttpServer()).post('/api/v1/sessions').send({ email, password });

describe('signing in', () => {
  it('gives a cookie that only this origin and no script can read, and keeps only its hash', async () => {
    const response = await signIn(organisation.emails.engineer ?? '', PASSWORD).expect(201);
    const [cookie = ''] = response.get('Set-Cookie') ?? [];
    for (const part of [`${SESSION_COOKIE}=`, 'Path=/', 'HttpOnly', 'Secure', 'SameSite=Lax'])
      expect(cookie).toContain(part);
    expect(cookie).not.toContain('Domain');
    const token = /=([^;]+)/.exec(cookie)?.[1] ?? '';
    const dump = await asSuperuser(api, async (client) => {
      const { rows } = await client.query(
        'SELECT s::text AS row FROM sessions s UNION ALL SELECT k::text FROM idempotency_keys k',
      );
      return rows.map((row: { row: string }) => row.row).join('\n');
    });
    expect(token.length).toBeGreaterThan(40);
    expect(dump).not.toContain(token);
    expect(response.body).toMatchObject({
      membership: { role: 'engineer', organisationName: 'People', customerId: null },
    });
  });

  it('an unknown e-mail and a wrong password answer alike', async () => {
    const unknown = await signIn('nobody.at.all@test.example', 'some password').expect(401);
    const wrong = await signIn(organisation.emails.lead ?? '', 'some password').expect(401);
    const answerTo = ({ body }: { body: Record<string, unknown> }) => ({ ...body, requestId: '' });
    expect(answerTo(unknown)).toEqual(answerTo(wrong));
  });

  it('guessing is slowed for the guesser; the person signs in from elsewhere all the same', async () => {
    const email = organisation.emails.installer ?? '';
    for (let round = 0; round < 10; round += 1) await signIn(email, `guess ${round}`).expect(401);
    const slowed = await signIn(email, PASSWORD).expect(429);
    expect(Number(slowed.headers['retry-after'])).toBeGreaterThan(0);
    // The same address, another person: nobody is locked out with them.
    await signIn(organisation.emails.lead ?? '', PASSWORD).expect(201);
    await asSuperuser(api, (client) => client.query(`UPDATE sign_in_attempts SET address_hash = '\\x00'`));
    await signIn(email, PASSWORD).expect(201);
  });

  it('signing out ends the session on the server; ending one of several leaves the others', async () => {
    const first = await api.as(organisation.emails.lead);
    const second = await api.as(organisation.emails.lead);
    const { body: list } = await first.get('/sessions').expect(200);
    const mine = list.items.find((one: { isThisOne: boolean }) => one.isThisOne);
    expect(list.items.length).toBeGreaterThan(1);
    await second.delete(`/sessions/${mine.id}`).expect(204);
    await first.get('/me').expect(401);
    await second.delete('/me/session').expect(204);
    await second.get('/me').expect(401);
    const viewer = await api.as(organisation.emails.viewer);
    await viewer.delete(`/sessions/${mine.id}`).expect(404);
  });
});

describe('people', () => {
  it('units and theme are remembered; two windows do not overwrite each other', async () => {
    const lead = await api.as(organisation.emails.lead);
    const { body: me } = await lead.get('/me').expect(200);
    await lead.patch('/me', me.version, { pressureUnit: '[psi]', theme: 'dark' }).expect(200);
    expect((await lead.get('/me')).body).toMatchObject({
      pressureUnit: '[psi]',
      theme: 'dark',
      version: me.version + 1,
    });
    await lead.patch('/me', me.version, { theme: 'light' }).expect(412);
    await lead.patch('/me', me.version + 1, { pressureUnit: 'furlong' }).expect(422);
  });

  it('an administrator cannot take away their own rights', async () => {
    const administrator = await api.as(organisation.emails.administrator);
    const path = `/memberships/${organisation.memberships.administrator}`;
    const { body } = await administrator.get(path).expect(200);
    await administrator.patch(path, body.version, { role: 'installer' }).expect(422);
    await administrator.patch(path, body.version, { archived: true }).expect(422);
  });
});

describe("a customer's people", () => {
  it('see their own machine with its setup record and standing, and report a problem that staff find', async () => {
    const other = await aCircuit(await api.as(organisation.emails.engineer), 'P2');
    const viewer = await api.as(organisation.emails.viewer);
    const { body: machines } = await viewer.get('/machines').expect(200);
    expect(machines.items.map((one: { id: string }) => one.id)).toEqual([world.machineId]);
    const { body: setup } = await viewer.get(`/machines/${world.machineId}/setup`).expect(200);
    expect(setup.circuits[0]).toMatchObject({
      fixtureName: 'F-P1',
      asLeft: { revision: 1 },
      standing: { status: 'holds', alarmsByWeek: [] },
    });
    await viewer.get(`/machines/${other.machineId}/setup`).expect(404);
    expect((await viewer.get('/circuits/standing-counts')).body).toMatchObject({ holds: 1, total: 1 });
    const id = uuidv7();
    const opened = await viewer
      .post('/issues', { id, machineId: world.machineId, title: 'Clamps open slowly', kind: 'check' })
      .expect(201);
    expect(opened.body).toMatchObject({ kind: 'reported', openedByCustomer: true, number: 1 });
    const engineer = await api.as(organisation.emails.engineer);
    await engineer
      .post(`/issues/${id}/comments`, { id: uuidv7(), text: 'seen, we call', isInternal: false })
      .expect(201);
    await engineer
      .post(`/issues/${id}/comments`, { id: uuidv7(), text: 'cold oil again?', isInternal: true })
      .expect(201);
    await viewer.post(`/issues/${id}/comments`, { id: uuidv7(), text: 'thank you', isInternal: true }).expect(201);
    const { body: seen } = await viewer.get(`/issues/${id}`).expect(200);
    expect(seen.comments.map((one: { text: string }) => one.text)).toEqual(['seen, we call', 'thank you']);
    const { body: all } = await engineer.get(`/issues/${id}`).expect(200);
    expect(all.comments).toHaveLength(3);
    const closed = await engineer
      .post(`/issues/${id}/closing`, { reason: 'oil warmed, return line cleared' }, { 'if-match': `"v${all.version}"` })
      .expect(200);
    expect(closed.body).toMatchObject({ state: 'closed', closeReason: 'oil warmed, return line cleared' });
    await engineer.patch(`/issues/${id}`, closed.body.version, { title: 'x' }).expect(409);
  });
});
