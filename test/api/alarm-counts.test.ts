import { uuidv7 } from 'uuidv7';
import {
  addPerson,
  aCircuit,
  anOrganisation,
  asSuperuser,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
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
let home: Organisation;
let engineer: TestClient;
let lead: TestClient;
let administrator: TestClient;
let base: CircuitWorld;
let machine: PlainMachine;
let gateway: Gateway;

interface Counts {
  bucket: string;
  kinds: string[];
  circuits: {
    clampCycles: number;
    alarms: Record<string, number>;
    buckets: {
      start: string;
      clampCycles: number;
      alarms: Record<string, number>;
      coveredRatio: number;
      revised: number;
    }[];
    gaps: { from: string; to: string }[];
    revisions: { revision: number; clampCycles: number; before: number }[];
    openFindings: number;
  }[];
}

beforeAll(async () => {
  api = await startApi();
  home = await anOrganisation(api, 'Home');
  engineer = await api.as(home.emails.engineer);
  lead = await api.as(home.emails.lead);
  administrator = await api.as(home.emails.administrator);
  base = await aCircuit(engineer, 'H');
});
afterAll(() => api.stop());
beforeEach(async () => {
  machine = await aPlainMachine(engineer, base.siteId);
  gateway = await aGateway(api, administrator, { 'M-1': machine.machineId });
});

const send = (...intervals: object[]) => gateway.send(aBody('M-1', intervals)).expect(200);
const read = async (from: Date, to: Date): Promise<Counts> => {
  const query = new URLSearchParams({ from: from.toISOString(), to: to.toISOString() });
  return (await lead.get(`/machines/${machine.machineId}/alarm-counts?${query}`).expect(200)).body as Counts;
};

describe('The counts of a machine', () => {
  it('are summed by kind and hour from what stands; gaps are gaps, and what was revised is told', async () => {
    await send(anHour('Station 1', 10, { alarms: { 'low-air': 1 }, clampCycles: 30 }));
    await send(anHour('Station 1', 10, { alarms: { 'low-air': 2 }, clampCycles: 33, revision: 2 }));
    await send(
      anHour('Station 1', 9, { alarms: { 'low-air': 1, 'clamping-pressure-lost': 5 } }),
      anHour('Station 1', 5),
    );
    await send(anHour('Station 1', 5, { clampCycles: 7 }));
    const found = await read(hoursAgo(24), hoursAgo(0));
    expect(found).toMatchObject({ bucket: 'hour', kinds: ['clamping-pressure-lost', 'low-air'] });
    const [circuit] = found.circuits;
    expect(circuit).toMatchObject({
      clampCycles: 33 + 40 + 40,
      alarms: { 'low-air': 3, 'clamping-pressure-lost': 5 },
      gaps: [{ from: hoursAgo(8).toISOString(), to: hoursAgo(5).toISOString() }],
      revisions: [{ revision: 2, clampCycles: 33, before: 30 }],
      openFindings: 1,
    });
    expect(circuit?.buckets).toMatchObject([
      { start: hoursAgo(10).toISOString(), clampCycles: 33, revised: 1, coveredRatio: 1, alarms: { 'low-air': 2 } },
      { start: hoursAgo(9).toISOString(), clampCycles: 40, revised: 0 },
      { start: hoursAgo(5).toISOString(), clampCycles: 40 },
    ]);
  });

  it('over months are by the day of the site', async () => {
    await asSuperuser(api, async (client) => {
      await client.query(
        `INSERT INTO alarm_counts (organisation_id, customer_id, circuit_id, source_id, webhook_id, from_at, to_at, revision,
                                   clamp_cycles, alarms, numbers_hash)
         SELECT c.organisation_id, c.customer_id, c.id, $2, 'x', h, h + interval '1 hour', 1, 1, '{}', 1
         FROM circuits c, generate_series(timestamptz '2026-10-20 00:00+01', timestamptz '2026-10-29 23:00+00', interval '1 hour') h
         WHERE c.id = $1`,
        [machine.circuitId, gateway.sourceId],
      );
    });
    const found = await read(new Date('2026-10-20T00:00:00+01:00'), new Date('2026-10-30T00:00:00Z'));
    const days = found.circuits[0]?.buckets ?? [];
    expect(found.bucket).toBe('day');
    expect(days).toHaveLength(10);
    // Clocks are set back on 25 October: that day has 25 hours, all of them reported.
    expect(days.map((day) => day.clampCycles)).toEqual([24, 24, 24, 24, 24, 25, 24, 24, 24, 24]);
    expect(days.every((day) => day.coveredRatio === 1)).toBe(true);
    expect(days[6]?.start).toBe('2026-10-26T00:00:00.000Z');
    expect(days[5]?.start).toBe('2026-10-24T23:00:00.000Z');
  });

  it('are asked for a stretch that can be', async () => {
    const path = `/machines/${machine.machineId}/alarm-counts`;
    await lead.get(path).expect(422);
    await lead.get(`${path}?from=2026-02-01T00:00:00Z&to=2026-01-01T00:00:00Z`).expect(422);
    await lead.get(`${path}?from=2020-02-01T00:00:00Z&to=2026-01-01T00:00:00Z`).expect(422);
    const empty = await read(hoursAgo(24), hoursAgo(0));
    expect(empty.circuits).toMatchObject([{ clampCycles: 0, buckets: [], gaps: [] }]);
  });
});

interface Issue {
  id: string;
  number: number;
  title: string;
  state: string;
  openedByName: string;
  version: number;
}
const issues = async (state = 'open'): Promise<Issue[]> => {
  const { body } = await lead.get(`/issues?machineId=${machine.machineId}&state=${state}`).expect(200);
  return (body as { items: Issue[] }).items;
};
const evidence = (id: string) =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<{ evidence: { total: number; intervals: { count: number }[] } }>(
      'SELECT evidence FROM issues WHERE id = $1',
      [id],
    );
    return rows[0]?.evidence;
  });
const rule = (circuitId: string | null, threshold: number, more: object = {}) =>
  lead.post('/alarm-rules', {
    id: uuidv7(),
    circuitId,
    alarmKind: null,
    threshold,
    windowS: 6 * 3600,
    isOn: true,
    ...more,
  });
const lost = (hours: number, count: number, more: object = {}) =>
  anHour('Station 1', hours, { alarms: { 'clamping-pressure-lost': count }, ...more });

describe('An alarm rule', () => {
  it('opens one issue with its evidence, adds to it while it is open, and does not flap when it is closed', async () => {
    await rule(machine.circuitId, 4).expect(201);
    await send(lost(5, 2));
    expect(await issues()).toEqual([]);
    await send(lost(4, 3));
    const [issue] = await issues();
    if (issue === undefined) throw new Error('there is no issue');
    expect(issue).toMatchObject({ kind: 'alarm', circuitId: machine.circuitId, openedByCustomer: false });
    expect(issue.title).toBe('5 alarms within 6 h: Station 1');
    expect(issue.openedByName).toMatch(/^Gateway /);
    expect(await evidence(issue.id)).toMatchObject({ total: 5, intervals: [{ count: 2 }, { count: 3 }] });
    await send(lost(3, 1), lost(20, 9));
    expect(await issues()).toHaveLength(1);
    expect(await evidence(issue.id)).toMatchObject({ total: 15 });
    // A revision takes back what was counted; the same delivery again adds nothing.
    await send(lost(3, 0, { revision: 2 }));
    expect(await evidence(issue.id)).toMatchObject({ total: 14 });
    const current = (await issues())[0];
    const closing = { 'if-match': `"v${current?.version}"` };
    await lead.call('POST', `/issues/${issue.id}/closing`, closing, { reason: 'seal exchanged' }).expect(200);
    await send(lost(6, 9), lost(2, 9));
    expect(await issues()).toEqual([]);
    expect(await issues('all')).toHaveLength(1);
  });

  it("tells why to people of the integrator; a customer's are told that it is open", async () => {
    await rule(machine.circuitId, 4, { alarmKind: 'clamping-pressure-lost' }).expect(201);
    await send(lost(5, 2), lost(4, 3));
    const [issue] = await issues();
    const { body } = await lead.get(`/issues/${issue?.id ?? ''}`).expect(200);
    expect(body.evidence).toEqual({
      rule: { alarmKind: 'clamping-pressure-lost', threshold: 4, windowS: 6 * 3600 },
      total: 5,
      most: 5,
      intervals: [
        { from: hoursAgo(5).toISOString(), to: hoursAgo(4).toISOString(), count: 2, sourceId: gateway.sourceId },
        { from: hoursAgo(4).toISOString(), to: hoursAgo(3).toISOString(), count: 3, sourceId: gateway.sourceId },
      ],
    });
    await addPerson(api, home, 'viewer', 'viewer', base.customerId);
    const viewer = await api.as(home.emails.viewer);
    expect((await viewer.get(`/issues/${issue?.id ?? ''}`).expect(200)).body).toMatchObject({
      title: issue?.title,
      evidence: null,
    });
  });

  it('opens anew by what happens after the closing', async () => {
    await rule(machine.circuitId, 4).expect(201);
    await send(lost(5, 9));
    const [issue] = await issues();
    const closing = { 'if-match': `"v${issue?.version}"` };
    await lead.call('POST', `/issues/${issue?.id}/closing`, closing, { reason: 'seal exchanged' }).expect(200);
    await asSuperuser(api, (client) =>
      client.query('UPDATE issues SET closed_at = $2 WHERE id = $1', [issue?.id, hoursAgo(4)]),
    );
    await send(lost(6, 9), lost(3, 3));
    expect(await issues()).toEqual([]);
    await send(lost(2, 1));
    const [again] = await issues();
    expect(again).toMatchObject({ number: (issue?.number ?? 0) + 1 });
    expect(await evidence(again?.id ?? '')).toMatchObject({ total: 4 });
  });

  it("of a circuit goes before the organisation's, and may be off, or for one kind alone", async () => {
    const { body } = await rule(null, 2).expect(201);
    await rule(null, 3).expect(409);
    const quiet = await aPlainMachine(engineer, base.siteId);
    await rule(quiet.circuitId, 2, { isOn: false }).expect(201);
    await rule(machine.circuitId, 2, { alarmKind: 'low-air' }).expect(201);
    await lead
      .post(`/sources/${gateway.sourceId}/machines`, {
        id: uuidv7(),
        externalReference: 'M-q',
        machineId: quiet.machineId,
      })
      .expect(201);
    await gateway.send(aBody('M-q', [lost(5, 9)])).expect(200);
    await send(lost(5, 9));
    expect(await issues()).toEqual([]);
    const third = await aPlainMachine(engineer, base.siteId);
    const mapping = { id: uuidv7(), externalReference: 'M-3', machineId: third.machineId };
    await lead.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
    await gateway.send(aBody('M-3', [lost(5, 2)])).expect(200);
    const opened = await lead.get(`/issues?machineId=${third.machineId}`).expect(200);
    expect((opened.body as { items: object[] }).items).toHaveLength(1);
    const listed = await lead.get(`/alarm-rules?machineId=${machine.machineId}`).expect(200);
    expect((listed.body as { items: object[] }).items).toMatchObject([{ circuitId: null }, { alarmKind: 'low-air' }]);
    await lead.patch(`/alarm-rules/${(body as { id: string }).id}`, 1, { isOn: false }).expect(200);
    await lead.delete(`/alarm-rules/${(body as { id: string }).id}`).expect(204);
  });

  it('sees what a settled finding or a second attempt brings', async () => {
    await rule(machine.circuitId, 4).expect(201);
    await gateway.send(aBody('M-later', [lost(5, 9)])).expect(200);
    const mapping = { id: uuidv7(), externalReference: 'M-later', machineId: machine.machineId };
    await lead.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
    const { body } = await lead.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
    const [finding] = (body as { items: { id: string; version: number }[] }).items;
    const headers = { 'if-match': `"v${finding?.version}"` };
    await lead.call('POST', `/findings/${finding?.id}/retry`, headers, {}).expect(200);
    expect(await issues()).toHaveLength(1);
  });
});

describe('What a gateway may write', () => {
  it('is receipts, counts, findings and when it was heard: the database refuses the rest', async () => {
    const asSource = (sql: string) =>
      asSuperuser(api, async (client) => {
        await client.query('BEGIN');
        await client.query(
          `SELECT set_config('role', 'org_staff', true), set_config('app.role', 'source', true),
                  set_config('app.organisation_id', (SELECT organisation_id::text FROM sources WHERE id = $1), true)`,
          [gateway.sourceId],
        );
        const result = await client.query(sql).then(
          ({ rowCount }) => rowCount,
          (error: { code: string }) => error.code,
        );
        await client.query('ROLLBACK');
        return result;
      });
    const byOwnSource = `WHERE id = '${gateway.sourceId}'`;
    expect(await asSource(`UPDATE sources SET last_heard_at = now(), clock_offset_s = 1 ${byOwnSource}`)).toBe(1);
    expect(await asSource(`UPDATE sources SET name = 'mine' ${byOwnSource}`)).toBe('42501');
    expect(await asSource(`UPDATE sources SET archived_at = now() ${byOwnSource}`)).toBe('42501');
    expect(await asSource(`UPDATE machines SET name = 'mine'`)).toBe(0);
    expect(await asSource(`UPDATE source_secrets SET expires_at = now()`)).toBe(0);
    expect(await asSource(`UPDATE issues SET title = 'mine'`)).toBe(0);
    expect(await asSource(`UPDATE deliveries SET webhook_id = 'mine'`)).toBe(0);
    expect(await asSource(`UPDATE alarm_counts SET clamp_cycles = 0`)).toBe('42501');
    expect(await asSource(`DELETE FROM alarm_counts`)).toBe('42501');
    expect(
      await asSource(
        `INSERT INTO customers (organisation_id, id, name) SELECT current_organisation(), gen_random_uuid(), 'x'`,
      ),
    ).toBe('42501');
  });
});
