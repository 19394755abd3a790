import { gzipSync } from 'node:zlib';
import type { DeliveryReceipt, Finding, Issue, IssueDetail } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour, aPlainMachine, type Gateway, type PlainMachine } from '../support/gateway.js';
import { request } from '../support/shared.js';

let api: TestApi;
let organisation: Organisation;
let administrator: TestClient;
let lead: TestClient;
let engineer: TestClient;
let base: CircuitWorld;
let world: PlainMachine;
let gateway: Gateway;

const cyclesThatStand = (): Promise<number[]> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ clamp_cycles: number }>(
      'SELECT clamp_cycles FROM alarm_counts WHERE circuit_id = $1 AND prevails ORDER BY from_at',
      [world.circuitId],
    );
    return rows.map((row) => row.clamp_cycles);
  });
const openFindings = async (): Promise<Finding[]> => {
  const { body } = await lead.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
  return (body as { items: Finding[] }).items;
};
const only = <T>(items: readonly T[]): T => {
  const [first] = items;
  if (first === undefined || items.length > 1) throw new Error(`one is expected, not ${items.length}`);
  return first;
};
const takeIn = (finding: Finding, body: object = {}) =>
  lead.call('POST', `/findings/${finding.id}/retry`, { 'if-match': `"v${finding.version}"` }, body);

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Home');
  administrator = await api.as(organisation.emails.administrator);
  lead = await api.as(organisation.emails.lead);
  engineer = await api.as(organisation.emails.engineer);
  base = await aCircuit(engineer, 'H');
});
afterAll(() => api.stop());
beforeEach(async () => {
  world = await aPlainMachine(engineer, base.siteId);
  gateway = await aGateway(api, administrator, { 'M-1': world.machineId });
});

describe('An id that is used for another body', () => {
  it('is answered so, and the body is kept whole until a person takes it in', async () => {
    await gateway.send(aBody('M-1', [anHour('Station 1', 5)]), { id: '1' }).expect(200);
    // Longer than any beginning that might be kept, with its only news at the end.
    const long = aBody('M-1', [
      ...Array.from({ length: 900 }, (_, index) => anHour('Station 1', 2_000 - index, { clampCycles: 1 })),
      anHour('Station 1', 4, { clampCycles: 77 }),
    ]);
    expect(JSON.stringify(long).length).toBeGreaterThan(100_000);
    const { body } = await gateway.send(long, { id: '1' }).expect(200);
    expect(body).toEqual({
      webhookId: '1',
      duplicate: false,
      intervals: 0,
      findings: 1,
      kinds: { 'same-id-other-body': 1 },
    });
    expect(await cyclesThatStand()).toEqual([40]);
    const finding = only(await openFindings());
    expect(finding.part?.length).toBeLessThanOrEqual(2_000);
    const taken = await takeIn(finding).expect(200);
    expect(taken.body).toMatchObject({ settled: 1, finding: { state: 'taken-in' } });
    const stands = await cyclesThatStand();
    expect(stands).toHaveLength(902);
    expect(stands.slice(-2)).toEqual([40, 77]);
    // The same again is known, and needs nobody.
    await gateway.send(long, { id: '1' }).expect(200);
    expect(await openFindings()).toEqual([]);
  });

  it('by a gateway that counts from 1 again: one press takes in all, and what contradicts is told', async () => {
    for (const n of [1, 2, 3]) {
      await gateway
        .send(aBody('M-1', [anHour('Station 1', 20 + n, { clampCycles: n })]), { id: String(n) })
        .expect(200);
    }
    for (const n of [1, 2]) {
      const again = aBody('M-1', [anHour('Station 1', 10 + n, { clampCycles: 10 * n })]);
      await gateway.send(again, { id: String(n) }).expect(200);
    }
    const other = aBody('M-1', [anHour('Station 1', 21, { clampCycles: 30 }), anHour('Station 9', 8)]);
    await gateway.send(other, { id: '3' }).expect(200);
    const [first] = await openFindings();
    if (first === undefined) throw new Error('there is no finding');
    const { body } = await takeIn(first, { alike: true }).expect(200);
    expect(body).toMatchObject({ settled: 3 });
    expect(await cyclesThatStand()).toEqual([3, 2, 1, 20, 10]);
    // Two hours of the same circuit in one revision, and a circuit that is not there.
    expect((await openFindings()).map(({ kind }) => kind).sort()).toEqual(['same-revision', 'unknown-circuit']);
  });
});

describe('A receipt', () => {
  it('counts by kind what was set aside and what contradicts', async () => {
    await gateway.send(aBody('M-1', [anHour('Station 1', 5, { clampCycles: 1 })])).expect(200);
    const body = aBody('M-1', [
      anHour('Station 1', 5, { clampCycles: 2 }),
      anHour('Station 1', 4),
      anHour('Station 1', 3, { clampCycles: -1 }),
      anHour('Station 8', 3),
      anHour('Station 9', 3),
    ]);
    const receipt = (await gateway.send(body, { id: 'msg_kinds' }).expect(200)).body as DeliveryReceipt;
    expect(receipt).toEqual({
      webhookId: 'msg_kinds',
      duplicate: false,
      intervals: 2,
      findings: 4,
      kinds: { 'same-revision': 1, 'bad-count': 1, 'unknown-circuit': 2 },
    });
    const again = (await gateway.send(body, { id: 'msg_kinds' }).expect(200)).body as DeliveryReceipt;
    expect(again).toMatchObject({ duplicate: true, findings: 0, kinds: {} });
  });
});

describe('A new secret', () => {
  it('holds at once, also where another process made it', async () => {
    const elsewhere = await startApi({}, {}, () => Promise.resolve(api.db));
    try {
      // Both have just read what the source may sign with.
      await gateway.send(aBody('M-1', [])).expect(200);
      const { body } = await (
        await elsewhere.as(organisation.emails.administrator)
      )
        .post(`/sources/${gateway.sourceId}/secrets`, { overlapHours: 1 })
        .expect(201);
      const { secret } = body as { secret: string };
      await gateway.send(aBody('M-1', []), { secret }).expect(200);
      await gateway.send(aBody('M-1', [])).expect(200);
    } finally {
      await elsewhere.app.close();
    }
  });
});

describe('A source that is archived', () => {
  it('takes in nothing any more, at once, also where another process archived it; others beside it go on', async () => {
    const elsewhere = await startApi({}, {}, () => Promise.resolve(api.db));
    try {
      const beside = await aGateway(api, administrator, { 'M-1': world.machineId });
      // Known to this process, and its machines with it, by two ways of taking in.
      await gateway.send(aBody('M-1', [anHour('Station 1', 9)])).expect(200);
      await gateway.send(aBody('M-1', [anHour('Station 1', 8)])).expect(200);
      const { body } = await administrator.get(`/sources/${gateway.sourceId}`).expect(200);
      const others = await elsewhere.as(organisation.emails.administrator);
      await others
        .patch(`/sources/${gateway.sourceId}`, (body as { version: number }).version, { archived: true })
        .expect(200);
      const [late, taken] = await Promise.all([
        gateway.send(aBody('M-1', [anHour('Station 1', 7)])),
        beside.send(aBody('M-1', [anHour('Station 1', 6)])),
      ]);
      expect([late.status, (late.body as { code: string }).code]).toEqual([410, 'source.gone']);
      expect(taken.status).toBe(200);
      await gateway.send(aBody('M-1', [anHour('Station 9', 7)])).expect(410);
      expect(await cyclesThatStand()).toEqual([40, 40, 40]);
      expect(await openFindings()).toEqual([]);
      // Taken out of the archive elsewhere, it is refused here no longer, not even for a moment.
      const archived = await others.get(`/sources/${gateway.sourceId}`).expect(200);
      await others
        .patch(`/sources/${gateway.sourceId}`, (archived.body as { version: number }).version, { archived: false })
        .expect(200);
      await gateway.send(aBody('M-1', [anHour('Station 1', 7)])).expect(200);
      expect(await cyclesThatStand()).toEqual([40, 40, 40, 40]);
    } finally {
      await elsewhere.app.close();
    }
  });
});

describe('A body', () => {
  const packed = async (payload: Buffer, headers: Record<string, string>) =>
    request(api.app.getHttpServer())
      .post(`/api/v1/sources/${gateway.sourceId}/alarm-counts`)
      .set(headers)
      .serialize((body) => body as string)
      .send(payload);

  it('that comes packed is unpacked, whether signed before or after', async () => {
    const text = JSON.stringify(aBody('M-1', [anHour('Station 1', 6, { clampCycles: 12 })]));
    const body = gzipSync(text);
    const before = { ...gateway.headers('msg_gz', text), 'content-encoding': 'gzip' };
    expect((await packed(body, before)).body).toMatchObject({ duplicate: false, intervals: 1 });
    // The same text plain is the same delivery.
    expect((await gateway.send(text, { id: 'msg_gz' }).expect(200)).body).toMatchObject({ duplicate: true });
    const at = new Date();
    const signature = gateway.signBytes('msg_gz', at, body);
    const after = { ...gateway.headers('msg_gz', text, { at }), 'content-encoding': 'gzip' };
    const signedAfter = await packed(body, { ...after, 'webhook-signature': signature });
    expect(signedAfter.body).toMatchObject({ duplicate: true });
    expect(await cyclesThatStand()).toEqual([12]);
  });

  it('in another coding, not in the one it says, or too large even once unpacked, is answered readably', async () => {
    const text = JSON.stringify(aBody('M-1', []));
    const headers = gateway.headers('msg_coding', text);
    const other = await packed(Buffer.from(text), { ...headers, 'content-encoding': 'br' });
    expect(other.status).toBe(415);
    expect((other.body as { detail: string }).detail).toContain('gzip or nothing, not br');
    const wrong = await packed(Buffer.from(text), { ...headers, 'content-encoding': 'gzip' });
    expect(wrong.status).toBe(400);
    expect((wrong.body as { detail: string }).detail).toContain('not gzip');
    const bomb = gzipSync(Buffer.alloc(5 * 1024 * 1024, ' '));
    const tooLarge = await packed(bomb, { ...headers, 'content-encoding': 'gzip' });
    const plain = await packed(Buffer.alloc(5 * 1024 * 1024, ' '), headers);
    for (const answer of [tooLarge, plain]) {
      expect(answer.status).toBe(413);
      expect((answer.body as { detail: string }).detail).toContain('at most 4 MiB, unpacked. Send fewer intervals');
    }
  });

  it('as a CloudEvent needs no time, and may carry a domain in its type', async () => {
    const event = {
      specversion: '1.0',
      id: uuidv7(),
      source: '/hall-2/gateway',
      type: 'com.example.alarm.counts',
      data: [{ machine: 'M-1', intervals: [anHour('Station 1', 6)] }],
    };
    const send = (body: object) => {
      const payload = JSON.stringify(body);
      const headers = gateway.headers(`msg_${uuidv7()}`, payload);
      return gateway.raw(payload, { ...headers, 'content-type': 'application/cloudevents+json' });
    };
    expect((await send(event).expect(200)).body).toMatchObject({ intervals: 1 });
    const { body } = await lead.get(`/sources/${gateway.sourceId}/deliveries`).expect(200);
    const sentAt = Date.parse((body as { items: { sentAt: string }[] }).items[0]?.sentAt ?? '');
    expect(Math.abs(Date.now() - sentAt)).toBeLessThan(60_000);
    const wrongTime = await send({ ...event, id: uuidv7(), time: 'yesterday' }).expect(422);
    expect(wrongTime.body).toMatchObject({ errors: [{ pointer: '/time', got: '"yesterday"' }] });
    const wrongType = await send({ ...event, id: uuidv7(), type: 'com.example.other' }).expect(422);
    expect((wrongType.body as { detail: string }).detail).toContain('com.example.alarm.counts');
  });
});

describe('A rule', () => {
  const issues = async (): Promise<Issue[]> => {
    const { body } = await engineer.get(`/issues?machineId=${world.machineId}&limit=100`).expect(200);
    return (body as { items: Issue[] }).items;
  };
  const alarms = (hours: number, count: number, revision = 1) =>
    anHour('Station 1', hours, { alarms: { 'low-air': count }, revision });

  it('is not tripped by history; what it gathered stays right after a downward revision', async () => {
    const rule = {
      id: uuidv7(),
      circuitId: world.circuitId,
      alarmKind: null,
      threshold: 6,
      windowS: 7_200,
      isOn: true,
    };
    await administrator.post('/alarm-rules', rule).expect(201);
    await gateway.send(aBody('M-1', [alarms(50, 9), alarms(49, 9)])).expect(200);
    expect(await issues()).toEqual([]);
    await gateway.send(aBody('M-1', [alarms(2, 5), alarms(1, 9)])).expect(200);
    const [opened] = await issues();
    if (opened === undefined) throw new Error('no issue was opened');
    const evidence = async () =>
      ((await engineer.get(`/issues/${opened.id}`).expect(200)).body as IssueDetail).evidence;
    expect(await evidence()).toMatchObject({ total: 14, most: 14 });
    await gateway.send(aBody('M-1', [alarms(1, 1, 2)])).expect(200);
    expect(await evidence()).toMatchObject({ total: 6, most: 6, intervals: [{ count: 5 }, { count: 1 }] });
  });
});
