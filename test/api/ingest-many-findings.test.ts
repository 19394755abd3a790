import type { DeliveryReceipt, Finding } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour, type Gateway } from '../support/gateway.js';

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
