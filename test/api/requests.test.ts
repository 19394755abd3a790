import { connect } from 'node:net';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Requests');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'R1');
});
afterAll(() => api.stop());

describe('Idempotency-Key', () => {
  it('the same key and body make one record and give the same answer; the answer says that it is a replay', async () => {
    const body = { id: uuidv7(), name: 'Once' };
    const key = { 'idempotency-key': '"once-1"' };
    const answers = [];
    for (let round = 0; round < 5; round += 1) answers.push(await engineer.post('/customers', body, key));
    expect(answers.map((answer) => answer.status)).toEqual([201, 201, 201, 201, 201]);
    expect(new Set(answers.map((answer) => answer.text)).size).toBe(1);
    expect(answers.map((answer) => answer.headers['idempotency-replayed'])).toEqual([
      undefined,
      'true',
      'true',
      'true',
      'true',
    ]);
  });

  it('twenty twins at once make one record; those that run meanwhile are told to wait', async () => {
    const body = { id: uuidv7(), name: 'Twins' };
    const answers = await Promise.all(
      Array.from({ length: 20 }, () => engineer.post('/customers', body, { 'idempotency-key': '"twins"' })),
    );
    const statuses = answers.map((answer) => answer.status);
    expect(statuses.filter((status) => status === 201).length).toBeGreaterThan(0);
    expect(statuses.every((status) => status === 201 || status === 409)).toBe(true);
    expect(answers.find((answer) => answer.status === 409)?.headers['retry-after'] ?? '1').toBe('1');
    const { body: list } = await engineer.get('/customers?limit=200');
    expect(list.items.filter((one: { name: string }) => one.name === 'Twins')).toHaveLength(1);
  });

  it('another body under a used key is refused, a missing or unquoted key too; another person may use the same key', async () => {
    const key = { 'idempotency-key': '"shared"' };
    await engineer.post('/customers', { id: uuidv7(), name: 'First use' }, key).expect(201);
    const reused = await engineer.post('/customers', { id: uuidv7(), name: 'Second use' }, key).expect(422);
    expect(reused.body.code).toBe('request.idempotency_reused');
    const bare = await engineer
      .post('/customers', { id: uuidv7(), name: 'X' }, { 'idempotency-key': 'bare' })
      .expect(400);
    expect(bare.body.code).toBe('request.idempotency_missing');
    const lead = await api.as(organisation.emails.lead);
    await lead.post('/customers', { id: uuidv7(), name: 'Third use' }, key).expect(201);
  });

  it('a create that was refused leaves nothing behind: the same key may be used for the right body', async () => {
    const key = { 'idempotency-key': '"refused"' };
    await engineer.post('/customers', { id: uuidv7(), name: '' }, key).expect(422);
    await engineer.post('/customers', { id: uuidv7(), name: 'Right now' }, key).expect(201);
  });
});

describe('ETag and If-Match', () => {
  it('fifty editors of one record: one winner a version, the rest learn the current one, no version is skipped', async () => {
    const path = `/machines/${world.machineId}`;
    const { body: before } = await engineer.get(path);
    const answers = await Promise.all(
      Array.from({ length: 50 }, (_, index) =>
        engineer.patch(path, before.version, { note: undefined, kitList: `editor ${index}` }),
      ),
    );
    expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1);
    const losers = answers.filter((answer) => answer.status === 412);
    expect(losers).toHaveLength(49);
    for (const loser of losers) expect(loser.body.code).toBe('request.stale');
    const { body: after, headers } = await engineer.get(path);
    expect(after.version).toBe(before.version + 1);
    expect(headers.etag).toBe(`"v${after.version}"`);
  });

  it('no If-Match: 428; a strange one: 412; If-None-Match with the current one: 304', async () => {
    const path = `/customers/${world.customerId}`;
    const missing = await engineer.call('PATCH', path, {}, { note: 'x' }).expect(428);
    expect(missing.body.code).toBe('request.precondition_required');
    await engineer.call('PATCH', path, { 'if-match': '*' }, { note: 'x' }).expect(412);
    const { headers } = await engineer.get(path).expect(200);
    await engineer.get(path, { 'if-none-match': String(headers.etag) }).expect(304);
  });
});

describe('pages', () => {
  it('a walk by cursor meets every record once, though records come in meanwhile; Link names the next page', async () => {
    for (let index = 0; index < 23; index += 1) {
      await engineer.post('/customers', { id: uuidv7(), name: `Walk ${String(index).padStart(2, '0')}` }).expect(201);
    }
    const met: string[] = [];
    let path: string | null = '/customers?limit=5';
    while (path !== null) {
      const page: { body: { items: { name: string }[]; nextCursor: string | null }; headers: Record<string, string> } =
        await engineer.get(path);
      met.push(...page.body.items.map((one) => one.name));
      if (met.length === 5) await engineer.post('/customers', { id: uuidv7(), name: 'Aaa before all' }).expect(201);
      const next: string | null = page.body.nextCursor;
      if (next !== null) expect(page.headers.link).toContain('rel="next"');
      path = next === null ? null : `/customers?limit=5&cursor=${encodeURIComponent(next)}`;
    }
    expect(new Set(met).size).toBe(met.length);
    expect(met.filter((name) => name.startsWith('Walk'))).toHaveLength(23);
  });

  it('a changed cursor and a cursor of another list are refused', async () => {
    const { body } = await engineer.get('/customers?limit=1');
    const changed = `${String(body.nextCursor).slice(0, -2)}xx`;
    const refused = await engineer.get(`/customers?cursor=${encodeURIComponent(changed)}`).expect(400);
    expect(refused.body.code).toBe('request.malformed');
    await engineer.get(`/machines?cursor=${encodeURIComponent(body.nextCursor)}`).expect(400);
    await engineer.get('/customers?limit=201').expect(422);
  });
});

describe('the front', () => {
  it('answers carry the headers of the house, and problems are problem+json without a trace of the inside', async () => {
    const { headers, body } = await engineer.get('/customers/not-an-id').expect(404);
    expect(headers['content-type']).toContain('application/problem+json');
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['content-security-policy']).toContain("default-src 'none'");
    expect(headers['cache-control']).toBe('no-store');
    expect(headers['x-request-id']).toBe(body.requestId);
    expect(JSON.stringify(body)).not.toMatch(/select|prisma|at .*\.js|organisation_id/i);
  });

  it('a change that a browser was talked into by another site is refused', async () => {
    const body = { id: uuidv7(), name: 'Cross' };
    const strangers: Record<string, string>[] = [
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
      { origin: 'https://elsewhere.example' },
    ];
    for (const headers of strangers) {
      const refused = await engineer.post('/customers', body, headers).expect(403);
      expect(refused.body.code).toBe('request.cross_site');
    }
    await engineer.post('/customers', body, { 'sec-fetch-site': 'same-origin' }).expect(201);
  });

  it('a body above the limit, of another type, broken, or with a poisoned prototype is a plain refusal', async () => {
    const large = { id: uuidv7(), name: 'x', note: 'y'.repeat(1_200_000) };
    await engineer.post('/customers', large).expect(413);
    const raw = (type: string, text: string) =>
      engineer.call(
        'POST',
        '/customers',
        { 'content-type': type, 'idempotency-key': `"${uuidv7()}"` },
        text as unknown as object,
      );
    await raw('text/xml', '<a/>').expect(415);
    await raw('application/json', '{"id":').expect(400);
    await raw('application/json', `{"__proto__":{"role":"administrator"},"id":"${uuidv7()}","name":"P"}`).expect(400);
    await raw('application/json', '['.repeat(50_000)).expect(400);
  });

  it('a request that is cut short or makes no sense does not trouble the others', async () => {
    await api.app.listen(0, '127.0.0.1');
    const { port } = api.app.getHttpServer().address() as { port: number };
    const speak = (text: string): Promise<string> =>
      new Promise((resolve) => {
        const socket = connect(port, '127.0.0.1', () => socket.end(text));
        let heard = '';
        socket.on('data', (data) => (heard += data.toString()));
        socket.on('close', () => resolve(heard));
        socket.on('error', () => resolve(heard));
      });
    expect(await speak('nonsense\r\n\r\n')).toContain('400');
    await speak(
      'POST /api/v1/customers HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\ncontent-length: 500\r\n\r\n{"id"',
    );
    await engineer.get('/me').expect(200);
  });

  it('says when it is ready, and describes itself', async () => {
    const response = await engineer.get('/openapi.json').expect(200);
    expect(response.body.openapi).toBe('3.1.0');
    const references = [...JSON.stringify(response.body).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map(
      (hit) => hit[1],
    );
    expect(references.length).toBeGreaterThan(100);
    for (const name of new Set(references)) expect(Object.keys(response.body.components.schemas)).toContain(name);
  });
});
