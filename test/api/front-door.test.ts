import net from 'node:net';
import { allRoutes } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { SESSION_COOKIE, startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let administrator: TestClient;
let port: number;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Doors');
  administrator = await api.as(organisation.emails.administrator);
  await api.app.listen(0, '127.0.0.1');
  ({ port } = api.app.getHttpServer().address() as net.AddressInfo);
});
afterAll(() => api.stop());

/** Sends bytes as they are; gives all that comes back. */
const raw = (bytes: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const socket = net.connect(port, '127.0.0.1', () => socket.write(bytes, 'latin1'));
    let answer = '';
    socket.setTimeout(5_000, () => socket.destroy(new Error(`no end: ${answer}`)));
    socket.on('data', (chunk) => (answer += chunk.toString('latin1')));
    socket.on('error', reject);
    socket.on('close', () => resolve(answer));
  });
const get = (target: string): Promise<string> =>
  raw(`GET ${target} HTTP/1.1\r\nhost: here\r\nconnection: close\r\n\r\n`);

const HARDENING = [
  'x-content-type-options: nosniff',
  'x-frame-options: DENY',
  "content-security-policy: default-src 'none'",
];
const expectProblem = (answer: string, status: number): void => {
  const [head = '', body = ''] = answer.split('\r\n\r\n', 2);
  expect(head.split('\r\n', 1)[0]).toContain(` ${status} `);
  expect(head.toLowerCase()).toContain('content-type: application/problem+json');
  for (const header of HARDENING) expect(head.toLowerCase()).toContain(header.toLowerCase());
  expect(JSON.parse(body.replace(/^[0-9a-f]+\r\n|\r\n0$/g, ''))).toMatchObject({ status, code: expect.any(String) });
};

describe('addresses', () => {
  it.each([
    'http://evil.example/api/v1/me',
    'http://evil.example/',
    '//evil.example/',
    '/\\evil.example/',
    '/%',
    '/api/v1/machines/%E0%A4%A',
    '/api/v1/customers?x=\\',
  ])('%s is refused as a problem', async (target) => {
    const answer = await get(target);
    const status = Number(/ (\d{3}) /.exec(answer)?.[1]);
    expect([400, 404, 401, 422]).toContain(status);
    expectProblem(answer, status);
  });

  it.each(['/%61pi/v1/me', '/ap%69/v1/sessions', '/%61%70%69/v1/openapi.json', '/api%2fv1/me', '/%61pi'])(
    '%s is no way around the limits of the API',
    async (target) => {
      const answer = await get(target);
      expect(answer).not.toContain('"openapi"');
      expectProblem(answer, target.startsWith('/api') ? 404 : 400);
    },
  );

  it.each([
    ['headers without end', `GET / HTTP/1.1\r\nhost: here\r\nx: ${'a'.repeat(40_000)}\r\n\r\n`, 431],
    ['a method of nobody', 'BREW /pot HTTP/1.1\r\nhost: here\r\n\r\n', 400],
    ['no HTTP at all', 'hello there\r\n\r\n', 400],
    [
      'two lengths',
      'POST /api/v1/sessions HTTP/1.1\r\nhost: here\r\ncontent-length: 1\r\ncontent-length: 2\r\n\r\nx',
      400,
    ],
    ['no host', 'GET /api/v1/me HTTP/1.1\r\nconnection: close\r\n\r\n', 400],
    [
      'a bent address of what is no contract',
      'GET /live?x=\\ HTTP/1.1\r\nhost: here\r\nconnection: close\r\n\r\n',
      400,
    ],
    ['a header with a hole', 'GET / HTTP/1.1\r\nho st: here\r\n\r\n', 400],
  ])('%s: a problem with the same headers', async (_what, bytes, status) => {
    expectProblem(await raw(bytes), status);
  });

  it.each(['PUT', 'DELETE', 'PATCH', 'OPTIONS'])(
    '%s on a path that takes others: 405, and which it takes',
    async (method) => {
      const answer = await raw(
        `${method} /api/v1/customers HTTP/1.1\r\nhost: here\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`,
      );
      expectProblem(answer, 405);
      expect(answer.toLowerCase()).toContain('allow: get, head, post');
    },
  );

  it('a path that is not there stays not there, whatever the method', async () => {
    for (const method of ['GET', 'PUT', 'DELETE']) {
      expectProblem(
        await raw(`${method} /api/v1/nothing HTTP/1.1\r\nhost: here\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`),
        404,
      );
    }
  });
});

describe('bodies', () => {
  const customer = (name: unknown) => JSON.stringify({ id: uuidv7(), name });
  const send = (body: string | Buffer, type = 'application/json') =>
    administrator.call(
      'POST',
      '/customers',
      { 'idempotency-key': `"${uuidv7()}"`, 'content-type': type },
      body as never,
    );

  it('half a pair of UTF-16 is refused in values and in names, and a whole pair is taken', async () => {
    const bent = await send('{"id":"' + uuidv7() + '","name":"a\\ud800b"}');
    expect([bent.status, bent.body.code]).toEqual([400, 'request.malformed']);
    const name = await send('{"id":"' + uuidv7() + '","name":"a","x\\udc00":1}');
    expect(name.status).toBe(400);
    await send('{"id":"' + uuidv7() + '","name":"Whole \\ud83d\\ude00"}').then(({ status }) =>
      expect(status).toBe(201),
    );
  });

  it('what is not UTF-8, nests too deep, is empty or no JSON is refused', async () => {
    const head =
      'POST /api/v1/sessions HTTP/1.1\r\nhost: here\r\nconnection: close\r\ncontent-type: application/json\r\n';
    expectProblem(await raw(`${head}content-length: 7\r\n\r\n{"\xff":1}`), 400);
    const deep = `{"id":"${uuidv7()}","name":${'['.repeat(65)}${']'.repeat(65)}}`;
    expect((await send(deep)).body.detail).toContain('deeper than 64');
    expect((await send('['.repeat(900_000))).status).toBe(400);
    for (const text of ['', '{', '{"a":1,}', "{'a':1}", 'NaN', '{"__proto__":{"x":1}}']) {
      expect([text, (await send(text)).status]).toEqual([text, 400]);
    }
  });

  it.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'application/xml'])(
    '%s is not read',
    async (type) => {
      const answer = await send(customer('Typed'), type);
      expect([answer.status, answer.body.code]).toEqual([415, 'request.media_type']);
    },
  );

  it.each(['0001-01-01T00:00:00Z', '1899-12-31T23:59:59Z', '2201-01-01T00:00:00Z', '9999-12-31T23:59:59Z'])(
    'the year of %s is refused, with the field',
    async (validFrom) => {
      const body = { id: uuidv7(), fixtureId: uuidv7(), stationId: uuidv7(), validFrom };
      const answer = await administrator.post('/fixture-fittings', body).expect(422);
      expect(answer.body.errors[0].field).toBe('validFrom');
    },
  );
});

describe('what anybody may send', () => {
  /** signed, and with a limit of its own */
  const DELIVERIES = 'deliverAlarmCounts';
  it.each(allRoutes.filter(({ access, id, method }) => access === 'public' && method !== 'GET' && id !== DELIVERIES))(
    '$id takes little',
    async ({ path }) => {
      const body = JSON.stringify({ email: 'x'.repeat(65_536) });
      const head = `POST /api/v1${path} HTTP/1.1\r\nhost: here\r\nconnection: close\r\ncontent-type: application/json`;
      expectProblem(await raw(`${head}\r\ncontent-length: ${body.length}\r\n\r\n${body}`), 413);
    },
  );
});

describe('limits', () => {
  it('go by who was found to ask: a new cookie that nobody gave is no new allowance', async () => {
    const limited = await startApi({ RATE_LIMIT: '10' });
    try {
      const other = await anOrganisation(limited, 'Limited');
      const lead = await limited.as(other.emails.lead);
      const engineer = await limited.as(other.emails.engineer);
      const stranger = await limited.as();
      const statuses: number[] = [];
      for (let round = 0; round < 30; round += 1) {
        const cookie = `${SESSION_COOKIE}=made-up-${round}-${'x'.repeat(30)}`;
        statuses.push((await stranger.get('/customers', { cookie })).status);
      }
      expect(statuses.filter((status) => status === 429).length).toBeGreaterThanOrEqual(15);
      // The address is used up for strangers; people who are signed in have their own allowance each.
      for (let round = 0; round < 8; round += 1) await lead.get('/me').expect(200);
      await engineer.get('/me').expect(200);
      const spent: number[] = [];
      for (let round = 0; round < 6; round += 1) spent.push((await lead.get('/me')).status);
      expect(spent).toContain(429);
      await engineer.get('/me').expect(200);
    } finally {
      await limited.stop();
    }
  });
});

describe('bodies that are not whole yet', () => {
  const SENT = 'POST /api/v1/customers HTTP/1.1\r\nhost: here\r\ncontent-type: application/json\r\n';

  it('may take so much of one address, whoever sends them; then it is told to come again, and may when they are gone', async () => {
    const open: net.Socket[] = [];
    for (let n = 0; n < 64; n += 1) {
      const socket = net.connect(port, '127.0.0.1');
      socket.on('error', () => undefined);
      socket.write(`${SENT}content-length: 1048576\r\n\r\n{`);
      open.push(socket);
    }
    const small = `${SENT}connection: close\r\ncontent-length: 2\r\n\r\n{}`;
    const until = async (status: number): Promise<string> => {
      for (let round = 0; round < 50; round += 1) {
        const answer = await raw(small);
        if (answer.includes(` ${status} `)) return answer;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
      throw new Error(`never ${status}`);
    };
    const refused = await until(429);
    expectProblem(refused, 429);
    expect(refused.toLowerCase()).toContain('retry-after: ');
    expect(await get('/api/v1/me')).toContain(' 401 ');
    for (const socket of open) socket.destroy();
    expectProblem(await until(401), 401);
  });
});

describe('the description', () => {
  it('names every path that the door knows', async () => {
    const { body } = await administrator.get('/openapi.json').expect(200);
    const paths = Object.keys(body.paths as object);
    for (const route of allRoutes) expect(paths).toContain(`/api/v1${route.path}`);
  });
});
