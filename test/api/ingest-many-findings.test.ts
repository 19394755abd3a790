import type { DeliveryReceipt, Finding } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour, hoursAgo, type Gateway } from '../support/gateway.js';

const MANY = 20_000;

let api: TestApi;
let lead: TestClient;
let engineer: TestClient;
let world: CircuitWorld;
let gateway: Gateway;

const openFindings = async (): Promise<Finding[]> => {
  const { body } = await lead.get(`/findings?sourceId=${gateway.sourceId}&limit=200`).expect(200);
  return (body as { items: Finding[] }).items;
};
const retry = (finding: Finding) =>
  lead.call('POST', `/findings/${finding.id}/retry`, { 'if-match': `"v${finding.version}"` }, { alike: true });
const keptOf = (finding: Finding | undefined) =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ detail: { parts: { part: { intervals: { circuit: string }[] } }[] } }>(
      'SELECT detail FROM findings WHERE id = $1',
      [finding?.id],
    );
    return rows[0]?.detail.parts.flatMap(({ part }) => part.intervals.map(({ circuit }) => circuit)) ?? [];
  });
const standing = () =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ name: string }>(
      `SELECT c.name FROM alarm_counts a JOIN circuits c ON c.id = a.circuit_id WHERE a.source_id = $1 AND a.prevails ORDER BY 1`,
      [gateway.sourceId],
    );
    return rows.map(({ name }) => name);
  });
const names = (count: number): string[] =>
  Array.from({ length: count }, (_, n) => `Place ${String(n).padStart(5, '0')}`);

async function addCircuit(name: string): Promise<void> {
  const body = { id: uuidv7(), powerUnitId: world.powerUnitId, stationId: world.stationId, name };
  await engineer.post('/circuits', body).expect(201);
}

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Home');
  lead = await api.as(organisation.emails.lead);
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'M');
  gateway = await aGateway(api, await api.as(organisation.emails.administrator), { 'M-1': world.machineId });
});
afterAll(() => api.stop());
afterEach(() =>
  asSuperuser(
    api,
    async (client) => void (await client.query('DELETE FROM findings WHERE source_id = $1', [gateway.sourceId])),
  ),
);

describe('A delivery with much that cannot be taken in', () => {
  it('makes one finding of twenty thousand circuits that are not there, keeps all of them, and takes in the rest', async () => {
    const sent = names(MANY);
    const body = aBody(
      'M-1',
      [...sent, 'Station 1'].map((circuit) => anHour(circuit, 5)),
    );
    const receipt = (await gateway.send(body).expect(200)).body as DeliveryReceipt;
    expect(receipt).toMatchObject({ intervals: 1, findings: 1, kinds: { 'unknown-circuit': 1 } });
    const findings = await openFindings();
    expect(findings).toMatchObject([
      {
        kind: 'unknown-circuit',
        subject: `M-1: Place 00000 … M-1: Place ${MANY - 1}`,
        subjectCount: MANY,
        partCount: MANY,
        state: 'open',
      },
    ]);
    expect(await keptOf(findings[0])).toEqual(sent);
    // A list shows how it begins.
    expect(findings[0]?.part).toContain('Place 00002');
    expect(findings[0]?.part).not.toContain('Place 00003');
  });

  it('lets a few stay findings of their own, each of which goes in by itself', async () => {
    await gateway
      .send(
        aBody(
          'M-1',
          names(20).map((circuit) => anHour(circuit, 6)),
        ),
      )
      .expect(200);
    const findings = await openFindings();
    expect(findings).toHaveLength(20);
    expect(findings.every(({ subjectCount }) => subjectCount === 1)).toBe(true);
  });

  it('takes in what can be, keeps what is left, and is done with the last', async () => {
    const sent = names(21);
    await gateway
      .send(
        aBody(
          'M-1',
          sent.map((circuit) => anHour(circuit, 7)),
        ),
      )
      .expect(200);
    const [finding] = await openFindings();
    if (finding === undefined) throw new Error('there is no finding');
    const refused = await retry(finding).expect(409);
    expect(refused.body).toMatchObject({ code: 'finding.still' });
    expect(refused.body.detail).toContain('unknown-circuit, M-1: Place 00000');

    const before = await standing();
    for (const name of sent.slice(0, 19)) await addCircuit(name);
    const inPart = (await retry(finding).expect(200)).body as { finding: Finding; settled: number };
    expect(inPart).toMatchObject({ settled: 0, finding: { state: 'open', subjectCount: 2, partCount: 2 } });
    expect(await keptOf(finding)).toEqual(sent.slice(19));
    expect(await standing()).toEqual([...sent.slice(0, 19), ...before].sort());
    // Whoever saw it as it was must look again.
    await retry(finding).expect(412);

    for (const name of sent.slice(19)) await addCircuit(name);
    const done = (await retry(inPart.finding).expect(200)).body as { finding: Finding; settled: number };
    expect(done).toMatchObject({ settled: 1, finding: { state: 'taken-in' } });
    expect(await openFindings()).toEqual([]);
    expect(await standing()).toEqual([...sent, ...before].sort());
  });

  it('makes one finding of each kind, also of entries that cannot be read', async () => {
    const entries = Array.from({ length: 30 }, (_, n) => ({ machine: `N-${n}`, intervals: [anHour('Station 1', 5)] }));
    const body = {
      type: 'alarm.counts',
      timestamp: new Date().toISOString(),
      data: [...entries, ...Array(25).fill(7)],
    };
    const receipt = (await gateway.send(body).expect(200)).body as DeliveryReceipt;
    expect(receipt).toMatchObject({ findings: 2, kinds: { 'unknown-machine': 1, 'bad-item': 1 } });
    const findings = await openFindings();
    expect(findings.map(({ kind, subjectCount }) => [kind, subjectCount]).sort()).toEqual([
      ['bad-item', 25],
      ['unknown-machine', 30],
    ]);
  });
});

describe('Contradictions of many intervals', () => {
  const MINUTE = 60_000;
  const stretch = (fromMin: number, toMin: number, clampCycles: number, startMs: number) => ({
    circuit: 'Station 1',
    from: new Date(startMs + fromMin * MINUTE).toISOString(),
    to: new Date(startMs + toMin * MINUTE).toISOString(),
    revision: 1,
    clampCycles,
    alarms: {},
  });
  const minutes = (count: number, clampCycles: number, startMs: number) =>
    Array.from({ length: count }, (_, n) => stretch(n, n + 1, clampCycles, startMs));
  const reports = (startMs: number) =>
    asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ id: string; prevails: boolean; n: number }>(
        `SELECT webhook_id AS id, prevails, count(*)::int AS n FROM alarm_counts
         WHERE source_id = $1 AND from_at >= $2 AND from_at < $2::timestamptz + interval '2 days' GROUP BY 1, 2 ORDER BY 1, 2`,
        [gateway.sourceId, new Date(startMs)],
      );
      return rows.map(({ id, prevails, n }) => [id, prevails, n]);
    });
  const settle = (finding: Finding, webhookId: string) =>
    lead.call(
      'POST',
      `/findings/${finding.id}/settlement`,
      { 'if-match': `"v${finding.version}"` },
      { sourceId: gateway.sourceId, webhookId },
    );
  const only = async (): Promise<Finding> => {
    const [finding, ...others] = await openFindings();
    if (finding === undefined) throw new Error('there is no finding');
    expect(others).toEqual([]);
    return finding;
  };

  it('of a day that is sent twice with other numbers: one finding, and one choice lets all of one delivery stand', async () => {
    const startMs = hoursAgo(24 * 5).getTime();
    await gateway.send(aBody('M-1', minutes(1440, 3, startMs)), { id: 'day_a' }).expect(200);
    const second = await gateway.send(aBody('M-1', minutes(1440, 4, startMs)), { id: 'day_b' }).expect(200);
    expect(second.body).toMatchObject({ intervals: 1440, findings: 1, kinds: { 'same-revision': 1 } });
    const finding = await only();
    expect(finding).toMatchObject({ kind: 'same-revision', subjectCount: 1440, subject: 'Station 1' });
    // What is chosen is a delivery: one report of each is shown.
    expect(finding.contenders.map(({ webhookId }) => webhookId)).toEqual(['day_a', 'day_b']);
    expect(await reports(startMs)).toEqual([
      ['day_a', true, 1440],
      ['day_b', false, 1440],
    ]);
    // A later look at a few of them leaves the finding as long as it is.
    const over = stretch(0, 30, 9, startMs);
    await gateway.send(aBody('M-1', [over]), { id: 'day_c' }).expect(200);
    const later = (await openFindings()).find(({ kind }) => kind === 'same-revision');
    if (later === undefined) throw new Error('the finding is gone');
    expect(later).toMatchObject({ id: finding.id, subjectCount: 1440 });
    const done = await settle(later, 'day_b').expect(200);
    expect(done.body).toMatchObject({ settled: 1, finding: { state: 'settled', settlement: 'prevails: day_b' } });
    expect(await reports(startMs)).toEqual([
      ['day_a', false, 1440],
      ['day_b', true, 1440],
      ['day_c', false, 1],
    ]);
    await settle(later, 'day_a').expect(412);
  });

  it('of a gateway that counts from midnight on, whole again each minute: one finding that grows, not one for each pair', async () => {
    const startMs = hoursAgo(24 * 9).getTime();
    const sent = Array.from({ length: 40 }, (_, n) => stretch(0, n + 1, n, startMs));
    for (const [n, interval] of sent.entries()) {
      const receipt = await gateway
        .send(aBody('M-1', [interval]), { id: `from_${String(n).padStart(2, '0')}` })
        .expect(200);
      if (n > 6) expect(receipt.body).toMatchObject({ findings: 1, kinds: { overlap: 1 } });
    }
    const finding = await only();
    expect(finding).toMatchObject({ kind: 'overlap', subjectCount: 40 });
    expect(finding.contenders).toHaveLength(20);
    expect(await reports(startMs)).toHaveLength(40);
    // Of the last, which is not among those shown, too.
    await settle(finding, 'from_39').expect(200);
    expect((await reports(startMs)).filter(([, prevails]) => prevails)).toEqual([['from_39', true, 1]]);
    expect(await openFindings()).toEqual([]);
    await gateway.send(aBody('M-1', [stretch(0, 60, 99, startMs)]), { id: 'from_more' }).expect(200);
    expect(await only()).toMatchObject({ id: finding.id, subjectCount: 41, state: 'open' });
  });

  it('of one delivery with itself, interval by interval: each is chosen by itself, and the finding stays until the last', async () => {
    const startMs = hoursAgo(24 * 17).getTime();
    const count = 22;
    // Some numbers occur in every interval: a choice is of its interval alone.
    const sent = [...minutes(count, 3, startMs), ...minutes(count, 4, startMs)];
    await gateway.send(aBody('M-1', sent), { id: 'twofold' }).expect(200);
    const finding = await only();
    expect(finding).toMatchObject({ kind: 'same-revision', subjectCount: count });
    const choose = ({ id, version, contenders: [first] }: Finding, change: object = {}) =>
      lead.call(
        'POST',
        `/findings/${id}/settlement`,
        { 'if-match': `"v${version}"` },
        {
          sourceId: gateway.sourceId,
          webhookId: 'twofold',
          numbersHash: first?.numbersHash,
          interval: { from: first?.from, to: first?.to },
          ...change,
        },
      );
    const refused = await choose(finding, { interval: undefined }).expect(422);
    expect(JSON.stringify(refused.body)).toContain('interval');
    const taken = await choose(finding).expect(200);
    expect(taken.body).toMatchObject({ settled: 0, finding: { state: 'open', subjectCount: count - 1 } });
    const next = await only();
    expect(next.contenders.map(({ from }) => from)).not.toContain(finding.contenders[0]?.from);
    await choose(finding).expect(412);
    let last = next;
    for (let left = count - 1; left > 0; left -= 1) {
      const answer = await choose(last).expect(200);
      ({ finding: last } = answer.body as { finding: Finding });
      expect(last).toMatchObject(left > 1 ? { state: 'open', subjectCount: left - 1 } : { state: 'settled' });
    }
    expect(await openFindings()).toEqual([]);
  });

  it('of one delivery with thousands of intervals that all overlap: one finding, and every report is kept', async () => {
    const startMs = hoursAgo(24 * 13).getTime();
    const sent = Array.from({ length: 2_500 }, (_, n) => stretch(0, n + 1, n, startMs));
    const receipt = await gateway.send(aBody('M-1', sent), { id: 'nested' }).expect(200);
    expect(receipt.body).toMatchObject({ intervals: 2_500, findings: 1, kinds: { overlap: 1 } });
    expect(await only()).toMatchObject({ kind: 'overlap', subjectCount: 2_500 });
    expect(await reports(startMs)).toEqual([
      ['nested', false, 2_499],
      ['nested', true, 1],
    ]);
  });
});
