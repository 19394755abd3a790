import type { DoorState } from '@repo/api/issues';
import type pg from 'pg';
import { aCircuit, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { aPlainMachine, type PlainMachine } from '../support/gateway.js';
import { IssueDoor } from '../support/shared.js';

let api: TestApi;
let home: Organisation;
let engineer: TestClient;
let lead: TestClient;
let base: CircuitWorld;
let machines: PlainMachine[];

beforeAll(async () => {
  api = await startApi();
  home = await anOrganisation(api, 'Home');
  engineer = await api.as(home.emails.engineer);
  lead = await api.as(home.emails.lead);
  base = await aCircuit(engineer, 'H');
});
afterAll(() => api.stop());
beforeEach(async () => {
  machines = [await aPlainMachine(engineer, base.siteId), await aPlainMachine(engineer, base.siteId)];
});

const OPENER = '00000000-0000-7000-8000-000000000001';
type Sql = Parameters<IssueDoor['open']>[0];
type Decide = Parameters<IssueDoor['open']>[3];

/** A transaction in the role of an alarm rule; `statements` is what it has sent. */
async function inTransaction<T>(work: (sql: Sql, statements: string[]) => Promise<T>): Promise<T> {
  return asSuperuser(api, async (client: pg.Client) => {
    await client.query('BEGIN');
    await client.query(
      `SELECT set_config('role', 'org_staff', true), set_config('app.role', 'alarm-rule', true),
              set_config('app.organisation_id', $1, true)`,
      [home.id],
    );
    const statements: string[] = [];
    const sql: Sql = {
      rows: async <R>(text: string, values: readonly unknown[]) => {
        statements.push(text);
        return (await client.query(text, [...values])).rows as R[];
      },
    };
    const result = await work(sql, statements);
    await client.query('COMMIT');
    return result;
  });
}

/** Opens, or adds one more to what is there. */
const adding =
  (by: number): Decide =>
  (states) =>
    Promise.resolve(states.map((state) => opening(state, totalOf(state) + by)));
const totalOf = ({ evidence }: DoorState): number => (evidence as { total: number } | null)?.total ?? 0;
const opening = ({ key, circuitName }: DoorState, total: number) => ({
  key,
  title: {
    code: 'alarms-in-window' as const,
    parameters: { most: total, alarmKind: null, windowS: 3600, circuitName: circuitName ?? '' },
  },
  evidence: { rule: { alarmKind: null, threshold: 1, windowS: 3600 }, total, most: total, intervals: [] },
  because: { rule: { alarmKind: null, threshold: 1, windowS: 3600 } },
  openedBy: OPENER,
  openedByName: 'a part of the product',
});

const door = () => api.app.get(IssueDoor, { strict: false });
const places = () => machines.map(({ circuitId }) => ({ circuitId }));
const open = (decide: Decide, at: Parameters<IssueDoor['open']>[2]['places'] = places()) =>
  inTransaction(async (sql, statements) => {
    await door().open(sql, home.id, { origin: 'alarm-rule', places: at }, decide);
    return statements.length;
  });

interface Kept {
  number: number;
  title: string;
  version: number;
  evidence: { total: number };
  circuit_id: string | null;
  origin_key: string;
}
const kept = (machine: PlainMachine | undefined): Promise<Kept[]> =>
  asSuperuser(api, async (client) => {
    const { rows } = await client.query<Kept>(
      'SELECT number, title, version, evidence, circuit_id, origin_key FROM issues WHERE machine_id = $1 ORDER BY number',
      [machine?.machineId],
    );
    return rows;
  });

describe('The door through which parts of the product open issues', () => {
  it('opens many at once, with numbers in their order and a line each in the audit trail, in three statements', async () => {
    expect(await open(adding(3))).toBe(3);
    const [first, second] = [await kept(machines[0]), await kept(machines[1])];
    expect(first).toMatchObject([{ title: '3 alarms within 1 h: Station 1', version: 1, evidence: { total: 3 } }]);
    expect(second).toMatchObject([{ number: (first[0]?.number ?? 0) + 1, evidence: { total: 3 } }]);
    const audited = await asSuperuser(api, async (client) => {
      const { rows } = await client.query<{ actor_name: string; changes: object }>(
        `SELECT a.actor_name, a.changes FROM audit_entries a JOIN issues i ON i.organisation_id = a.organisation_id AND i.id = a.entity_id
         WHERE a.entity = 'issue' AND a.action = 'open' AND i.machine_id = ANY ($1::uuid[])`,
        [machines.map(({ machineId }) => machineId)],
      );
      return rows;
    });
    const changes = { title: '3 alarms within 1 h: Station 1', rule: { alarmKind: null, threshold: 1, windowS: 3600 } };
    expect(audited).toEqual([
      { actor_name: 'a part of the product', changes },
      { actor_name: 'a part of the product', changes },
    ]);
  });

  it('adds to an issue that is open, and writes nothing where nothing is new', async () => {
    await open(adding(3));
    expect(await open(adding(2))).toBe(2);
    expect(await kept(machines[0])).toMatchObject([
      { title: '3 alarms within 1 h: Station 1', version: 2, evidence: { total: 5 } },
    ]);
    expect(await open(adding(0))).toBe(1);
    expect(await kept(machines[0])).toMatchObject([{ version: 2 }]);
    expect(await open(() => Promise.resolve([]))).toBe(1);
  });

  it('knows an issue by its key', async () => {
    const [first, second] = places();
    if (first === undefined || second === undefined) throw new Error('two machines were made');
    await open(adding(1), [{ ...first, key: 'batch 7' }, second]);
    await open(adding(1), [{ ...first, key: 'batch 7' }, second]);
    expect(await kept(machines[0])).toMatchObject([{ evidence: { total: 2 }, origin_key: 'batch 7' }]);
    expect(await kept(machines[1])).toMatchObject([{ origin_key: second.circuitId }]);
    const seen: DoorState[] = [];
    await open(
      (states) => {
        seen.push(...states);
        return Promise.resolve([]);
      },
      [first, { ...first, key: 'batch 7' }],
    );
    expect(seen.map(({ openId }) => openId !== null)).toEqual([false, true]);
  });

  it('opens one at a machine, and one at a customer, which no machine has', async () => {
    const [first] = machines;
    if (first === undefined) throw new Error('a machine was made');
    const seen: DoorState[] = [];
    const openAll: Decide = (states) => {
      seen.push(...states);
      return adding(1)(states);
    };
    const at = [{ machineId: first.machineId }, { customerId: base.customerId, key: 'gateway 3' }];
    await open(openAll, at);
    await open(adding(1), at);
    expect(await kept(first)).toMatchObject([
      { version: 2, circuit_id: null, origin_key: first.machineId, evidence: { total: 2 } },
    ]);
    expect(seen).toMatchObject([
      { machineId: first.machineId, customerId: base.customerId, circuitId: null },
      { machineId: null, customerId: base.customerId },
    ]);
    expect(await open(adding(1), [{ machineId: base.customerId }, { circuitId: first.machineId }])).toBe(1);
  });

  it('tells when the last one was closed, and opens another one then', async () => {
    await open(adding(1), places().slice(0, 1));
    const { body } = await lead.get(`/issues?machineId=${machines[0]?.machineId ?? ''}`).expect(200);
    const [issue] = (body as { items: { id: string; version: number }[] }).items;
    const headers = { 'if-match': `"v${issue?.version}"` };
    await lead.call('POST', `/issues/${issue?.id}/closing`, headers, { reason: 'seal exchanged' }).expect(200);
    const closedAt: (number | null)[] = [];
    await open((states) => {
      closedAt.push(...states.map(({ closedAtMs }) => closedAtMs));
      return adding(1)(states);
    }, places());
    expect(closedAt).toEqual([expect.any(Number), null]);
    expect(await kept(machines[0])).toHaveLength(2);
  });

  it('lets one of two open it who have both found nothing open, and the other add to it', async () => {
    let looked = 0;
    let bothLooked = (): void => undefined;
    const both = new Promise<void>((resolve) => (bothLooked = resolve));
    const together: Decide = async (states) => {
      looked += 1;
      if (looked === 2) bothLooked();
      await both;
      return adding(1)(states);
    };
    await Promise.all([open(together), open(together)]);
    expect(await kept(machines[0])).toMatchObject([{ version: 2, evidence: { total: 2 } }]);
    expect(await kept(machines[1])).toMatchObject([{ version: 2, evidence: { total: 2 } }]);
  });

  it('loses nothing when two add to the same issue at once', async () => {
    await open(adding(1));
    await Promise.all(Array.from({ length: 4 }, () => open(adding(1), places().slice(0, 1))));
    expect(await kept(machines[0])).toMatchObject([{ version: 5, evidence: { total: 5 } }]);
  });
});
