import { createHmac } from 'node:crypto';
import { connect } from 'node:net';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour, type Gateway } from '../support/gateway.js';

let api: TestApi;
let gateway: Gateway;
let other: Gateway;
let lead: TestClient;

beforeAll(async () => {
  api = await startApi({ SOURCE_RATE_LIMIT: '1000' });
  await api.app.listen(0, '127.0.0.1');
  const organisation = await anOrganisation(api, 'Home');
  const world = await aCircuit(await api.as(organisation.emails.engineer), 'B');
  lead = await api.as(organisation.emails.lead);
  const administrator = await api.as(organisation.emails.administrator);
  gateway = await aGateway(api, administrator, { 'M-1': world.machineId });
  other = await aGateway(api, administrator);
});
afterAll(() => api.stop());

const stored = () =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ counts: string; receipts: string }>(
      `SELECT (SELECT count(*) FROM alarm_counts) AS counts, (SELECT count(*) FROM deliveries) AS receipts`,
    );
    return rows[0];
  });

const whole = (data: string): string =>
  `{"type":"alarm.counts","timestamp":"${new Date().toISOString()}","data":${data}}`;
const interval = (fields: string): string =>
  `{"circuit":"Station 1","from":"2026-01-01T00:00:00Z","to":"2026-01-01T01:00:00Z","revision":1,"clampCycles":1,"alarms":{}${fields}}`;

describe('A signed body that is not what it should be', () => {
  it.each([
    ['nothing', '', 400],
    ['half a text', '{"type":"alarm.cou', 400],
    ['not JSON', 'hello', 400],
    ['no object', '[]', 422],
    ['null', 'null', 422],
    ['another type', whole('[]').replace('alarm.counts', 'alarm.other'), 422],
    ['no time', '{"type":"alarm.counts","data":[]}', 422],
    ['no list', whole('{}'), 422],
    ['too many machines', whole(`[${'0,'.repeat(10_000)}0]`), 422],
    ['a key twice', whole('[{"machine":"M-1","machine":"M-2","intervals":[]}]'), 400],
    ['a count twice', whole(`[{"machine":"M-1","intervals":[${interval(',"clampCycles":2')}]}]`), 400],
    ['deep', whole(`${'['.repeat(20_000)}${']'.repeat(20_000)}`), 400],
    ['NaN', whole('[NaN]'), 400],
    ['U+0000', whole('[{"machine":"a\\u0000b","intervals":[]}]'), 400],
    ['half a pair', whole('[{"machine":"\\ud800","intervals":[]}]'), 400],
  ])('%s: %s', async (_name, payload, status) => {
    const before = await stored();
    const answer = await gateway.send(payload).expect(status);
    expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(answer.body).toMatchObject({ status, requestId: expect.any(String) as string });
    expect(await stored()).toEqual(before);
  });

  it('bytes that are no UTF-8', async () => {
    const payload = Buffer.from([0x22, 0xff, 0x22]);
    const at = new Date();
    const key = Buffer.from(gateway.secret.replace('whsec_', ''), 'base64');
    const time = String(Math.floor(at.getTime() / 1000));
    const signature = createHmac('sha256', key).update(`msg_bytes.${time}.`).update(payload).digest('base64');
    const headers = { 'webhook-id': 'msg_bytes', 'webhook-timestamp': time, 'webhook-signature': `v1,${signature}` };
    const { port } = api.app.getHttpServer().address() as { port: number };
    const answer = await fetch(`http://127.0.0.1:${port}/api/v1/sources/${gateway.sourceId}/alarm-counts`, {
      method: 'POST',
      headers: { ...headers, 'content-type': 'application/json' },
      body: payload,
    });
    expect(answer.status).toBe(400);
  });

  it.each([
    ['numbers without end', interval(',"measures":{"clampTimeS":1e999}'), 'bad-measure'],
    ['a count beyond counting', interval('').replace('"clampCycles":1', '"clampCycles":1e300'), 'bad-count'],
    ['a revision beyond its column', interval('').replace('"revision":1', '"revision":99999999999'), 'bad-revision'],
    ['a kind with a hostile name', interval('').replace('"alarms":{}', '"alarms":{"__proto__":1}'), 'bad-count'],
    ['a name of 10 MB at most', interval('').replace('Station 1', 'x'.repeat(100_000)), 'bad-item'],
  ])('%s is acknowledged and set aside', async (_name, part, kind) => {
    const id = `msg_${uuidv7()}`;
    const { body } = await gateway.send(whole(`[{"machine":"M-1","intervals":[${part}]}]`), { id }).expect(200);
    expect(body).toMatchObject({ intervals: 0, findings: 1 });
    const list = await lead.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
    expect((list.body as { items: object[] }).items[0]).toMatchObject({ kind, webhookId: id });
  });

  it('larger than 4 MiB, of another type or character set', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_type', payload);
    await gateway.send(`"${'x'.repeat(4 * 1024 * 1024)}"`).expect(413);
    for (const type of [
      'text/plain',
      'application/xml',
      'application/cloudevents-batch+json',
      'application/json; charset=latin1',
    ]) {
      await gateway.raw(payload, { ...headers, 'content-type': type }).expect(415);
    }
    await gateway.raw(payload, { ...headers, 'content-type': 'application/json; charset="UTF-8"' }).expect(200);
  });

  it('with 8,000 intervals in one delivery is taken in whole', async () => {
    const start = Date.parse('2026-02-01T00:00:00Z');
    const intervals = Array.from({ length: 8000 }, (_, index) => ({
      ...anHour('Station 1', 0),
      from: new Date(start + index * 600_000).toISOString(),
      to: new Date(start + (index + 1) * 600_000).toISOString(),
    }));
    const { body } = await gateway.send(aBody('M-1', intervals)).expect(200);
    expect(body).toMatchObject({ intervals: 8000, findings: 0 });
  });
});

/** Writes bytes onto a connection and gives what came back until it was closed. */
function onSocket(parts: readonly string[], { end = true } = {}): Promise<string> {
  const { port } = api.app.getHttpServer().address() as { port: number };
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1');
    let got = '';
    socket.setTimeout(10_000, () => socket.destroy());
    socket.on('data', (data) => (got += data.toString()));
    socket.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'ECONNRESET' && error.code !== 'EPIPE') reject(error);
    });
    socket.on('close', () => resolve(got));
    for (const part of parts) socket.write(part);
    if (end) socket.end();
  });
}

describe('A connection that misbehaves', () => {
  const head = (headers: Record<string, string>): string =>
    `POST /api/v1/sources/${gateway.sourceId}/alarm-counts HTTP/1.1\r\nhost: x\r\nconnection: close\r\n${Object.entries(
      headers,
    )
      .map(([name, value]) => `${name}: ${value}\r\n`)
      .join('')}\r\n`;

  it('ending in the middle of a body leaves nothing behind, and no fault', async () => {
    const before = await stored();
    const payload = JSON.stringify(aBody('M-1', [anHour('Station 1', 3)]));
    const headers = { ...gateway.headers('msg_cut', payload), 'content-length': String(Buffer.byteLength(payload)) };
    const answer = await onSocket([head(headers), payload.slice(0, 80)]);
    expect(answer).not.toMatch(/^HTTP\/1.1 [25]/);
    expect(await stored()).toEqual(before);
  });

  it('that says one length and sends another, or speaks nonsense, is refused', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const short = { ...gateway.headers('msg_len', payload), 'content-length': String(payload.length - 10) };
    expect(await onSocket([head(short), payload])).toMatch(/^HTTP\/1.1 4/);
    expect(await onSocket(['GARBAGE\r\n\r\n'])).toMatch(/^HTTP\/1.1 400/);
    const both = { ...gateway.headers('msg_both', payload), 'content-length': '5', 'transfer-encoding': 'chunked' };
    expect(await onSocket([head(both), payload])).toMatch(/^HTTP\/1.1 400/);
    await gateway.send(aBody('M-1', [])).expect(200);
  });
});

describe('Too many deliveries of one source', () => {
  it('are told to wait, and another source is not', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_flood', payload);
    let slowed = 0;
    for (let round = 0; round < 30 && slowed === 0; round += 1) {
      const answers = await Promise.all(Array.from({ length: 50 }, () => gateway.raw(payload, headers)));
      for (const answer of answers) {
        expect([200, 429]).toContain(answer.status);
        if (answer.status === 429) {
          slowed += 1;
          expect(Number(answer.headers['retry-after'])).toBeGreaterThanOrEqual(1);
        }
      }
    }
    expect(slowed).toBeGreaterThan(0);
    await other.send(aBody('M-1', [])).expect(200);
  });
});
