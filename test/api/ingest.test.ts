import { createHmac } from 'node:crypto';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import {
  aBody,
  aGateway,
  anHour,
  aPlainMachine,
  hoursAgo,
  type Gateway,
  type PlainMachine,
} from '../support/gateway.js';
import { clock } from '../support/shared.js';

const realNow = clock.now;
/** Lets the API believe that it is another time. */
const setNow = (ms: number): void => {
  clock.now = () => ms;
};

let api: TestApi;
let organisation: Organisation;
let administrator: TestClient;
let lead: TestClient;
let engineer: TestClient;
let base: CircuitWorld;
let world: PlainMachine;
let foreign: CircuitWorld;
let gateway: Gateway;

interface CountRow {
  from_at: Date;
  to_at: Date;
  revision: number;
  clamp_cycles: number;
  prevails: boolean;
  webhook_id: string;
}

const counts = (circuitId: string): Promise<CountRow[]> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<CountRow>(
      `SELECT from_at, to_at, revision, clamp_cycles, prevails, webhook_id FROM alarm_counts WHERE circuit_id = $1
       ORDER BY from_at, to_at, revision, clamp_cycles`,
      [circuitId],
    );
    return rows;
  });
const findings = async (state = 'open') => {
  const { body } = await lead.get(`/findings?state=${state}&sourceId=${gateway.sourceId}`).expect(200);
  return (body as { items: Record<string, never>[] }).items as unknown as {
    id: string;
    kind: string;
    state: string;
    subject: string;
    version: number;
    webhookId: string;
    part: string | null;
    contenders: { sourceId: string; webhookId: string; numbersHash: string }[];
  }[];
};
const act = (id: string, verb: string, version: number, body: object) =>
  lead.call('POST', `/findings/${id}/${verb}`, { 'if-match': `"v${version}"` }, body);

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Home');
  const away = await anOrganisation(api, 'Away');
  administrator = await api.as(organisation.emails.administrator);
  lead = await api.as(organisation.emails.lead);
  engineer = await api.as(organisation.emails.engineer);
  base = await aCircuit(engineer, 'H');
  foreign = await aCircuit(await api.as(away.emails.engineer), 'F');
});
afterAll(() => api.stop());
beforeEach(async () => {
  world = await aPlainMachine(engineer, base.siteId);
  gateway = await aGateway(api, administrator, { 'M-1': world.machineId });
});
afterEach(() => {
  clock.now = realNow;
});

describe('The signature of a delivery', () => {
  it('is that of the published scheme: a library signs it, and so does a plain HMAC', async () => {
    const payload = JSON.stringify(aBody('M-1', [anHour('Station 1', 3, { alarms: { 'low-air': 2 } })]));
    const [id, at] = ['msg_plain', Math.floor(Date.now() / 1000)];
    const key = Buffer.from(gateway.secret.replace('whsec_', ''), 'base64');
    const signature = createHmac('sha256', key).update(`${id}.${at}.${payload}`).digest('base64');
    const headers = gateway.headers(id, payload, { at: new Date(at * 1000) });
    expect(headers['webhook-signature']).toBe(`v1,${signature}`);
    const { body } = await gateway.raw(payload, headers).expect(200);
    expect(body).toEqual({ webhookId: id, duplicate: false, intervals: 1, findings: 0, kinds: {} });
    expect(await counts(world.circuitId)).toMatchObject([{ clamp_cycles: 40, prevails: true, webhook_id: id }]);
  });

  it('may stand in a list beside others; none that fits, none at all, or another version is refused', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_list', payload);
    const good = headers['webhook-signature'] ?? '';
    const wrong = `v1,${Buffer.alloc(32).toString('base64')}`;
    const send = (signature: string) => gateway.raw(payload, { ...headers, 'webhook-signature': signature });
    await send(`v1a,abcd ${wrong} ${good}`).expect(200);
    for (const bad of [wrong, good.replace('v1,', 'v2,'), 'v1,', good.slice(0, 20), 'nonsense']) {
      const { body } = await send(bad).expect(401);
      expect(body).toMatchObject({ code: 'source.signature' });
    }
    for (const missing of ['webhook-id', 'webhook-timestamp', 'webhook-signature']) {
      const { [missing]: _gone, ...rest } = headers;
      await gateway.raw(payload, rest).expect(401);
    }
  });

  it('covers the bytes, the id and the time', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_bytes', payload);
    await gateway.raw(`${payload} `, headers).expect(401);
    await gateway.raw(payload, { ...headers, 'webhook-id': 'msg_other' }).expect(401);
    const later = String(Number(headers['webhook-timestamp']) + 1);
    await gateway.raw(payload, { ...headers, 'webhook-timestamp': later }).expect(401);
    await gateway.raw(payload, headers).expect(200);
  });

  it.each([
    [-301, 401],
    [-299, 200],
    [299, 200],
    [301, 401],
  ])('made %d s from our time is answered %d', async (offsetS, status) => {
    const at = new Date(Math.floor(Date.now() / 1000) * 1000 + offsetS * 1000);
    // Well within a second, so that no tick falls between.
    setNow(Math.floor(Date.now() / 1000) * 1000 + 100);
    await gateway.send(aBody('M-1', []), { at }).expect(status);
  });

  it('goes on with the secret before for the overlap, and no longer', async () => {
    const before = gateway.secret;
    const rotate = (overlapHours: number) =>
      administrator.post(`/sources/${gateway.sourceId}/secrets`, { overlapHours }).expect(201);
    const { body } = await rotate(1);
    const detail = body as { secret: string; secrets: object[] };
    expect(detail.secret).toMatch(/^whsec_[A-Za-z0-9+/]{43}=$/);
    expect(detail.secrets).toHaveLength(2);
    expect(JSON.stringify(detail.secrets)).not.toContain('whsec_');
    await untilKeysAreRead();
    await gateway.send(aBody('M-1', []), { secret: detail.secret }).expect(200);
    await gateway.send(aBody('M-1', []), { secret: before }).expect(200);
    const { body: last } = await rotate(0);
    await untilKeysAreRead();
    await gateway.send(aBody('M-1', []), { secret: before }).expect(401);
    await gateway.send(aBody('M-1', []), { secret: detail.secret }).expect(401);
    await gateway.send(aBody('M-1', []), { secret: (last as { secret: string }).secret }).expect(200);
  });

  it('of a source that nobody knows is not looked at; an archived one is gone', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_gone', payload);
    await gateway.raw(payload, headers, uuidv7()).expect(404);
    await gateway.raw(payload, headers, 'no-id').expect(404);
    await administrator.patch(`/sources/${gateway.sourceId}`, 1, { archived: true }).expect(200);
    await untilKeysAreRead();
    const { body } = await gateway.raw(payload, headers).expect(410);
    expect(body).toMatchObject({ code: 'source.gone' });
  });

  it('is slowed down when it is wrong again and again', async () => {
    const payload = JSON.stringify(aBody('M-1', []));
    const headers = { ...gateway.headers('msg_guess', payload), 'webhook-signature': 'v1,AAAA' };
    const answers = await Promise.all(Array.from({ length: 140 }, () => gateway.raw(payload, headers)));
    const slowed = answers.filter((answer) => answer.status === 429);
    expect(slowed.length).toBeGreaterThan(0);
    expect(Number(slowed[0]?.headers['retry-after'])).toBeGreaterThan(0);
    // Who signs rightly is not held up by it.
    await gateway.send(aBody('M-1', [])).expect(200);
  });
});

/** What the API keeps of a source's secrets is read anew after three seconds. */
const untilKeysAreRead = () => new Promise((resolve) => setTimeout(resolve, 3100));

describe('A delivery', () => {
  it('changes nothing when it comes again, within minutes or 75 hours later with a new signature', async () => {
    const body = aBody('M-1', [anHour('Station 1', 5)]);
    const first = await gateway.send(body, { id: 'msg_again' }).expect(200);
    expect(first.body).toMatchObject({ duplicate: false, intervals: 1 });
    const again = await gateway.send(body, { id: 'msg_again' }).expect(200);
    expect(again.body).toMatchObject({ duplicate: true, intervals: 0 });
    const later = Date.now() + 75 * 3_600_000;
    setNow(later);
    const payload = JSON.stringify(body);
    const old = gateway.headers('msg_again', payload, { at: new Date(later - 75 * 3_600_000) });
    await gateway.raw(payload, old).expect(401);
    const late = await gateway.send(body, { id: 'msg_again', at: new Date(later) }).expect(200);
    expect(late.body).toMatchObject({ duplicate: true });
    clock.now = realNow;
    expect(await counts(world.circuitId)).toHaveLength(1);
    expect(await findings('all')).toEqual([]);
  });

  it('with a known id and another body is acknowledged, the first wins, and a person sees it once', async () => {
    await gateway.send(aBody('M-1', [anHour('Station 1', 5)]), { id: 'msg_two' }).expect(200);
    const other = aBody('M-1', [anHour('Station 1', 5, { clampCycles: 41 })]);
    for (let round = 0; round < 2; round += 1) await gateway.send(other, { id: 'msg_two' }).expect(200);
    expect(await counts(world.circuitId)).toMatchObject([{ clamp_cycles: 40 }]);
    expect(await findings()).toMatchObject([{ kind: 'same-id-other-body', subject: 'msg_two' }]);
  });

  it('a hundred at once, each twice: every interval once', async () => {
    const deliveries = Array.from({ length: 100 }, (_, index) => ({
      id: `msg_${index}`,
      body: aBody('M-1', [anHour('Station 1', index + 2, { clampCycles: index })]),
    }));
    const answers = await Promise.all([...deliveries, ...deliveries].map(({ id, body }) => gateway.send(body, { id })));
    expect(answers.map((answer) => answer.status)).toEqual(Array(200).fill(200));
    expect(answers.filter((answer) => (answer.body as { duplicate: boolean }).duplicate)).toHaveLength(100);
    const rows = await counts(world.circuitId);
    expect(rows).toHaveLength(100);
    expect(rows.every((row) => row.prevails)).toBe(true);
  });

  it('late by days, in any order: the highest revision stands, whatever came first', async () => {
    const revisions = [3, 1, 2].map((revision) => anHour('Station 1', 100, { revision, clampCycles: revision * 10 }));
    for (const interval of revisions) await gateway.send(aBody('M-1', [interval])).expect(200);
    expect(await counts(world.circuitId)).toMatchObject([
      { revision: 1, prevails: false },
      { revision: 2, prevails: false },
      { revision: 3, prevails: true, clamp_cycles: 30 },
    ]);
    expect(await findings('all')).toEqual([]);
  });

  it.each([
    ['a', 'b'],
    ['b', 'a'],
  ])(
    'contradicting another (%s first, then %s): the smaller id stands until a person settles it',
    async (first, second) => {
      const cycles: Record<string, number> = { a: 10, b: 20 };
      for (const id of [first, second]) {
        const body = aBody('M-1', [anHour('Station 1', 50, { clampCycles: cycles[id] ?? 0 })]);
        await gateway.send(body, { id: `msg_${id}` }).expect(200);
      }
      expect((await counts(world.circuitId)).map((row) => [row.webhook_id, row.prevails])).toEqual([
        ['msg_a', true],
        ['msg_b', false],
      ]);
      const [finding] = await findings();
      if (finding === undefined) throw new Error('there is no finding');
      expect(finding).toMatchObject({ kind: 'same-revision', state: 'open', subject: 'Station 1' });
      expect(finding.contenders.map((contender) => contender.webhookId)).toEqual(['msg_a', 'msg_b']);
      const choice = { sourceId: gateway.sourceId, webhookId: 'msg_b' };
      await act(finding.id, 'settlement', finding.version + 5, choice).expect(412);
      await act(finding.id, 'settlement', finding.version, { ...choice, webhookId: 'msg_c' }).expect(422);
      const settled = await act(finding.id, 'settlement', finding.version, choice).expect(200);
      expect(settled.body).toMatchObject({ settled: 1, finding: { state: 'settled', settlement: 'prevails: msg_b' } });
      expect((await counts(world.circuitId)).map((row) => [row.webhook_id, row.prevails])).toEqual([
        ['msg_a', false],
        ['msg_b', true],
      ]);
      // It stays settled when both come again under other ids, and is decided anew by a higher revision alone.
      for (const id of ['a', 'b']) {
        await gateway.send(aBody('M-1', [anHour('Station 1', 50, { clampCycles: cycles[id] ?? 0 })])).expect(200);
      }
      expect(await findings()).toEqual([]);
      const higher = anHour('Station 1', 50, { revision: 2, clampCycles: 99 });
      await gateway.send(aBody('M-1', [higher])).expect(200);
      expect((await counts(world.circuitId)).filter((row) => row.prevails)).toMatchObject([{ clamp_cycles: 99 }]);
    },
  );

  it('overlapping others: one choice of a delivery settles all that it contradicts', async () => {
    const hours = [30, 29, 28].map((hours) => anHour('Station 1', hours));
    const day = anHour('Station 1', 40, { from: hoursAgo(40).toISOString(), to: hoursAgo(20).toISOString() });
    await gateway.send(aBody('M-1', [day]), { id: 'msg_day' }).expect(200);
    await gateway.send(aBody('M-1', hours), { id: 'msg_hours' }).expect(200);
    const open = await findings();
    expect(open.map(({ kind }) => kind)).toEqual(['overlap', 'overlap', 'overlap']);
    expect((await counts(world.circuitId)).filter((row) => row.prevails)).toHaveLength(1);
    const choice = { sourceId: gateway.sourceId, webhookId: 'msg_hours' };
    const [first] = open;
    if (first === undefined) throw new Error('there is no finding');
    const { body } = await act(first.id, 'settlement', first.version, choice).expect(200);
    expect(body).toMatchObject({ settled: 3 });
    expect((await counts(world.circuitId)).filter((row) => row.prevails)).toHaveLength(3);
    expect(await findings()).toEqual([]);
  });

  it('with parts that cannot be: the rest is taken in, each bad part is seen and kept', async () => {
    const bad = [
      anHour('Station 1', 9, { clampCycles: -1 }),
      anHour('Station 1', 8, { alarms: { 'low-air': 1.5 } }),
      anHour('Station 1', 7, { from: hoursAgo(6).toISOString(), to: hoursAgo(7).toISOString() }),
      anHour('Station 1', 6, { from: hoursAgo(70).toISOString() }),
      anHour('Station 1', -30),
      anHour('Station 1', 5, { from: '2026-02-30T00:00:00Z' }),
      anHour('Station 1', 20_000),
      anHour('Station 1', 4, { revision: 0.5 }),
      anHour('Station 1', 4, { measures: { clampTimeS: 'x' as unknown as number } }),
      anHour('Station 9', 4),
      'nothing',
    ];
    const body = {
      ...aBody('M-1', [anHour('Station 1', 3), ...bad] as object[]),
    } as { data: object[] };
    body.data.push({ machine: 'M-unknown', intervals: [anHour('Station 1', 3)] }, { machine: 5 });
    const { body: receipt } = await gateway.send(body, { id: 'msg_bad' }).expect(200);
    expect(receipt).toMatchObject({ intervals: 1, findings: 11 });
    expect(await counts(world.circuitId)).toHaveLength(1);
    const found = await findings();
    expect(found.map(({ kind }) => kind).sort()).toEqual(
      [
        'bad-count',
        'bad-interval',
        'bad-item',
        'bad-item',
        'bad-measure',
        'bad-revision',
        'interval-ahead',
        'interval-too-long',
        'interval-too-old',
        'unknown-circuit',
        'unknown-machine',
      ].sort(),
    );
    await gateway.send(body, { id: 'msg_bad' }).expect(200);
    expect(await findings()).toHaveLength(found.length);
    const [count] = found.filter(({ kind }) => kind === 'bad-count');
    expect(count?.part).toContain('"clampCycles":-1');
    const deliveries = await lead.get(`/sources/${gateway.sourceId}/deliveries`).expect(200);
    expect(deliveries.body).toMatchObject({ items: [{ webhookId: 'msg_bad', state: 'in-part', intervals: 1 }] });
  });

  it('of a machine that nobody had named is taken in once somebody has', async () => {
    for (let index = 0; index < 3; index += 1) {
      await gateway.send(aBody('M-2', [anHour('Station 1', 10 + index)])).expect(200);
    }
    const open = await findings();
    expect(open.map(({ kind, subject }) => [kind, subject])).toEqual(Array(3).fill(['unknown-machine', 'M-2']));
    const [first] = open;
    if (first === undefined) throw new Error('there is no finding');
    await act(first.id, 'retry', first.version, { alike: true }).expect(409);
    const mapping = { id: uuidv7(), externalReference: 'M-2', machineId: world.machineId };
    await lead.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
    const { body } = await act(first.id, 'retry', first.version, { alike: true }).expect(200);
    expect(body).toMatchObject({ settled: 3, finding: { state: 'taken-in' } });
    expect(await counts(world.circuitId)).toHaveLength(3);
    expect(await findings()).toEqual([]);
  });

  it('can be dismissed in part, with a reason', async () => {
    await gateway.send(aBody('M-1', [anHour('Station 1', 9, { clampCycles: -1 })])).expect(200);
    const [finding] = await findings();
    if (finding === undefined) throw new Error('there is no finding');
    await act(finding.id, 'retry', finding.version, {}).expect(409);
    await act(finding.id, 'dismissal', finding.version, { reason: '' }).expect(422);
    await act(finding.id, 'dismissal', finding.version, { reason: 'counter was reset' }).expect(200);
    expect(await findings('dismissed')).toMatchObject([{ id: finding.id, settlement: 'counter was reset' }]);
    await act(finding.id, 'dismissal', finding.version + 1, { reason: 'again' }).expect(409);
  });

  it("never reaches another organisation's circuit, nor another machine's, by name or id", async () => {
    const other = await aPlainMachine(engineer, base.siteId);
    for (const circuit of [foreign.circuitId, other.circuitId]) {
      const { body } = await gateway.send(aBody('M-1', [anHour(circuit, 4)])).expect(200);
      expect(body).toMatchObject({ intervals: 0, findings: 1 });
      expect(await counts(circuit)).toEqual([]);
    }
    const mapping = { id: uuidv7(), externalReference: 'M-x', machineId: foreign.machineId };
    await administrator.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(404);
    const ownInterval = await gateway.send(aBody('M-1', [anHour(world.circuitId, 4)])).expect(200);
    expect(ownInterval.body).toMatchObject({ intervals: 1 });
  });

  it('tells when the source was heard, how far its clock is off, and where it was silent', async () => {
    const at = new Date(Date.now() + 40_000);
    await gateway.send(aBody('M-1', []), { at }).expect(200);
    const { body } = await lead.get(`/sources/${gateway.sourceId}`).expect(200);
    const source = body as { clockOffsetS: number; lastHeardAt: string; isSilent: boolean; gaps: object[] };
    expect(source.clockOffsetS).toBeGreaterThan(35);
    expect(source.clockOffsetS).toBeLessThan(45);
    expect(Date.now() - Date.parse(source.lastHeardAt)).toBeLessThan(60_000);
    expect(source).toMatchObject({ isSilent: false, gaps: [] });
    await asSuperuser(api, async (client) => {
      await client.query(
        `INSERT INTO deliveries (organisation_id, id, source_id, webhook_id, body_sha256, received_at, state)
         SELECT $1, gen_random_uuid(), $2, 'old_' || n, '\\x00', now() - make_interval(hours => n), 'taken-in'
         FROM unnest(ARRAY[1, 2, 3, 8, 9, 30]) n`,
        [organisation.id, gateway.sourceId],
      );
    });
    const later = await lead.get(`/sources/${gateway.sourceId}`).expect(200);
    const { gaps } = later.body as { gaps: { from: string; to: string }[] };
    expect(gaps.map(({ from, to }) => Math.round((Date.parse(to) - Date.parse(from)) / 3_600_000))).toEqual([5, 21]);
  });
});

describe('CloudEvents', () => {
  const event = (circuit: string, id: string, source = '/hall-2/gateway') => ({
    specversion: '1.0',
    id,
    source,
    type: 'alarm.counts',
    time: new Date().toISOString(),
    datacontenttype: 'application/json',
    data: [{ machine: 'M-1', intervals: [anHour(circuit, 6)] }],
  });
  const send = (body: object, headers: Record<string, string> = {}) => {
    const payload = JSON.stringify(body);
    return gateway.raw(payload, { ...gateway.headers(`msg_${uuidv7()}`, payload), ...headers });
  };
  const structured = { 'content-type': 'application/cloudevents+json; charset=utf-8' };

  it('in structured mode are known by source and id', async () => {
    const first = await send(event('Station 1', 'e1'), structured).expect(200);
    expect(first.body).toMatchObject({ duplicate: false, intervals: 1, webhookId: '["/hall-2/gateway","e1"]' });
    const body = event('Station 1', 'e1');
    await send(body, structured).expect(200);
    const other = await send(event('Station 1', 'e1', '/hall-3/gateway'), structured).expect(200);
    expect(other.body).toMatchObject({ duplicate: false });
  });

  it('in binary mode carry the attributes in headers', async () => {
    const { data, ...attributes } = event('Station 1', 'e 2');
    const headers = Object.fromEntries(
      Object.entries(attributes)
        .filter(([name]) => name !== 'datacontenttype')
        .map(([name, value]) => [`ce-${name}`, encodeURIComponent(value)]),
    );
    const { body } = await send(data, headers).expect(200);
    expect(body).toMatchObject({ intervals: 1, webhookId: '["/hall-2/gateway","e 2"]' });
    const again = await send(data, headers).expect(200);
    expect(again.body).toMatchObject({ duplicate: true });
  });

  it.each([
    ['specversion', '0.3'],
    ['id', ''],
    ['source', undefined],
    ['type', 'other.thing'],
    ['time', 'yesterday'],
  ])('without a right %s are refused', async (name, value) => {
    const { body } = await send({ ...event('Station 1', 'e3'), [name]: value }, structured).expect(422);
    expect(body).toMatchObject({ code: 'request.invalid' });
  });
});
