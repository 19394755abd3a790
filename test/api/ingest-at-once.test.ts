import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld } from '../builders/world.js';
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

let api: TestApi;
let engineer: TestClient;
let lead: TestClient;
let administrator: TestClient;
let base: CircuitWorld;
let world: PlainMachine;
let gateway: Gateway;

const stored = (circuitId: string): Promise<{ hour: number; revision: number; prevails: boolean }[]> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ from_at: Date; revision: number; prevails: boolean }>(
      'SELECT from_at, revision, prevails FROM alarm_counts WHERE circuit_id = $1 ORDER BY from_at DESC, revision',
      [circuitId],
    );
    return rows.map(({ from_at: from, ...rest }) => ({
      hour: (hoursAgo(0).getTime() - from.getTime()) / 3_600_000,
      ...rest,
    }));
  });
const kinds = async (): Promise<string[]> => {
  const { body } = await lead.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
  return (body as { items: { kind: string }[] }).items.map(({ kind }) => kind);
};
const taken = { duplicate: false, findings: 0 };

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Home');
  administrator = await api.as(organisation.emails.administrator);
  engineer = await api.as(organisation.emails.engineer);
  lead = await api.as(organisation.emails.lead);
  base = await aCircuit(engineer, 'H');
});
afterAll(() => api.stop());
beforeEach(async () => {
  world = await aPlainMachine(engineer, base.siteId);
  gateway = await aGateway(api, administrator, { 'M-1': world.machineId });
  // From here on the machine and its circuit are remembered, and what comes is taken in at once.
  await gateway.send(aBody('M-1', [anHour('Station 1', 90)])).expect(200);
  await new Promise((resolve) => setTimeout(resolve, 300));
});

describe('What was known of a machine a moment ago', () => {
  it('is good enough as long as it is still so', async () => {
    const { body } = await gateway.send(aBody('M-1', [anHour('Station 1', 5), anHour('Station 1', 4)])).expect(200);
    expect(body).toMatchObject({ ...taken, intervals: 2 });
    expect((await stored(world.circuitId)).map(({ hour }) => hour)).toEqual([4, 5, 90]);
  });

  it('is given up when a circuit has another name since', async () => {
    const circuit = await engineer.get(`/circuits/${world.circuitId}`).expect(200);
    const { version } = circuit.body as { version: number };
    await engineer
      .call('PATCH', `/circuits/${world.circuitId}`, { 'if-match': `"v${version}"` }, { name: 'Station A' })
      .expect(200);
    await gateway.send(aBody('M-1', [anHour('Station 1', 5)])).expect(200);
    expect(await kinds()).toEqual(['unknown-circuit']);
    await gateway.send(aBody('M-1', [anHour('Station A', 5)])).expect(200);
    expect((await stored(world.circuitId)).map(({ hour }) => hour)).toEqual([5, 90]);
  });

  it('is given up when the reference means another machine since', async () => {
    const other = await aPlainMachine(engineer, base.siteId);
    const { body } = await lead.get(`/sources/${gateway.sourceId}/machines`).expect(200);
    const [link] = (body as { items: { id: string }[] }).items;
    await lead.call('DELETE', `/source-machines/${link?.id ?? ''}`, {}).expect(204);
    const mapping = { id: uuidv7(), externalReference: 'M-1', machineId: other.machineId };
    await lead.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
    await gateway.send(aBody('M-1', [anHour('Station 1', 5)])).expect(200);
    expect((await stored(world.circuitId)).map(({ hour }) => hour)).toEqual([90]);
    expect((await stored(other.circuitId)).map(({ hour }) => hour)).toEqual([5]);
  });
});

describe('What was not expected is taken in step by step', () => {
  it('a delivery that comes again', async () => {
    const body = aBody('M-1', [anHour('Station 1', 5)]);
    await gateway.send(body, { id: 'msg_again' }).expect(200);
    const again = await gateway.send(body, { id: 'msg_again' }).expect(200);
    expect(again.body).toMatchObject({ duplicate: true, intervals: 0 });
    expect((await stored(world.circuitId)).map(({ hour }) => hour)).toEqual([5, 90]);
  });

  it('a revision of what is there', async () => {
    await gateway.send(aBody('M-1', [anHour('Station 1', 5)])).expect(200);
    await gateway.send(aBody('M-1', [anHour('Station 1', 5, { revision: 2, clampCycles: 41 })])).expect(200);
    expect(await stored(world.circuitId)).toEqual([
      { hour: 5, revision: 1, prevails: false },
      { hour: 5, revision: 2, prevails: true },
      { hour: 90, revision: 1, prevails: true },
    ]);
  });

  it('two intervals of one delivery that overlap', async () => {
    const overlapping = [anHour('Station 1', 5), anHour('Station 1', 6, { to: hoursAgo(4.5).toISOString() })];
    await gateway.send(aBody('M-1', overlapping)).expect(200);
    expect(await kinds()).toEqual(['overlap']);
  });

  it('a part that cannot be, beside one that can', async () => {
    const { body } = await gateway
      .send(aBody('M-1', [anHour('Station 1', 5), anHour('Station 1', 4, { clampCycles: -1 })]))
      .expect(200);
    expect(body).toMatchObject({ duplicate: false, intervals: 1, findings: 1 });
    expect(await kinds()).toEqual(['bad-count']);
    expect((await stored(world.circuitId)).map(({ hour }) => hour)).toEqual([5, 90]);
  });
});
