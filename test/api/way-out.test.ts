import { uuidv7 } from 'uuidv7';
import type { CircuitOverview, MachineOverview, WayOutAnswer } from '@repo/contracts';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { createDemoDatabase } from '../support/database.mjs';

type Change = WayOutAnswer['changes'][number];
type End = 'lowest' | 'highest';

let api: TestApi;
let engineer: TestClient;
let troubled: { machineId: string; circuitId: string; status: string }[];

beforeAll(async () => {
  api = await startApi({}, {}, createDemoDatabase);
  engineer = await api.as('engineer@demo.example');
  const { body } = await engineer.get('/circuits/standings?limit=200').expect(200);
  troubled = body.items.filter(({ status }: { status: string }) => status !== 'holds');
});
afterAll(() => api.stop());

async function overviewOf(machineId: string, circuitId: string, basis = 'as-left'): Promise<CircuitOverview> {
  const { body } = await engineer.get(`/machines/${machineId}/overview?basis=${basis}`).expect(200);
  const found = (body as MachineOverview).circuits.find(({ circuit }) => circuit.id === circuitId);
  if (found === undefined) throw new Error(`no circuit ${circuitId}`);
  return found;
}

async function wayOutOf(circuitId: string, basis = 'as-left'): Promise<WayOutAnswer | null> {
  const { body } = await engineer.get(`/circuits/${circuitId}/way-out?basis=${basis}`).expect(200);
  return (body as { wayOut: WayOutAnswer | null }).wayOut;
}

const pascal = (value: number) => ({ value, unit: 'Pa' });
/** Settings that a change brings to an end of its range, by their names on the wire. */
function settingsOf(change: Change, end: End): Record<string, ReturnType<typeof pascal>> {
  const figure = Number(change[end] ?? change.lowest ?? change.highest);
  if (change.code === 'switch') {
    return { resetPoint: pascal(figure), setPoint: pascal(figure + Number(change.apart)) };
  }
  const air = change.air?.[end] ?? change.air?.lowest ?? change.air?.highest ?? null;
  return {
    [change.field.replace(/Pa$/, '')]: pascal(figure),
    ...(air === null ? {} : { airPressure: pascal(air) }),
  };
}
const SETTINGS = ['setting', 'settingTolerance', 'setPoint', 'resetPoint', 'airPressure', 'pumpRestart', 'pumpRestartTolerance'] as const; // prettier-ignore

/** All that is set is released as one target. */
async function release(
  { circuit, asLeft, target }: CircuitOverview,
  changes: readonly Change[],
  end: End,
): Promise<void> {
  const from: Record<string, unknown> = { ...(asLeft ?? target) };
  const settings = Object.fromEntries(SETTINGS.map((name) => [name, from[name]]));
  const changed = Object.assign(settings, ...changes.map((change) => settingsOf(change, end)));
  await engineer
    .post('/target-settings', {
      ...{ ...changed, id: uuidv7(), circuitId: circuit.id, reason: 'the way out' },
      afterRevision: target?.revision ?? 0,
    })
    .expect(201);
}

/** What was read again, at the settings as they were left. */
async function readAgain({ circuit, asLeft }: CircuitOverview, more: object): Promise<void> {
  if (asLeft === null) throw new Error('nothing was left');
  const left: Record<string, unknown> = { ...asLeft };
  const names = [...SETTINGS, 'decay', 'decayDuration', 'oilTemperature', 'lowestWhileShared', 'gaugeSpan', 'gaugeClass', 'clampTime', 'contactTime', 'unclampTime', 'timeTolerance']; // prettier-ignore
  await engineer
    .post('/setup-records', {
      ...Object.fromEntries(names.map((name) => [name, left[name]])),
      ...{ id: uuidv7(), circuitId: circuit.id, reportName: 'R-1', reason: 'the way out', ...more },
      ...{ measuredAt: new Date(Date.now() - 60_000).toISOString(), measuredByName: 'W. Reader' },
      afterRevision: asLeft.revision,
    })
    .expect(201);
}

const versionOf = async (path: string): Promise<number> => (await engineer.get(path).expect(200)).body.version;

/** One of the same type, in the same place, that is set otherwise takes its place. */
async function exchange(id: string, set: Readonly<Record<string, number>>): Promise<void> {
  const { body: fitted } = await engineer.get(`/installed-components/${id}`).expect(200);
  const { machineId, powerUnitId, circuitId, componentTypeId, designation, lineFunctions, figures } = fitted;
  const { sensing, isBeyondShutOff } = fitted;
  const changed = Object.entries(set).map(([name, pa]) => [name, { ...pascal(pa), source: 'the way out' }]);
  const answer = await engineer.post('/installed-components', {
    ...{ machineId, powerUnitId, circuitId, componentTypeId, designation, lineFunctions, sensing, isBeyondShutOff },
    ...{ id: uuidv7(), figures: { ...figures, ...Object.fromEntries(changed) } },
    ...{ replacesId: id, reason: 'the way out' },
    validFrom: new Date(Date.now() - 60_000).toISOString(),
  });
  expect(answer.status).toBe(201);
}

/** Each thing that the demonstration's ways out ask for, done as a person would. */
const DONE: Partial<
  Record<Change['code'], (overview: CircuitOverview, change: Change, machineId: string) => Promise<void>>
> = {
  rating: async (_overview, { id, ref, lowest }) => {
    expect(ref?.entity).toBe('fixture');
    const path = `/fixtures/${id}`;
    await engineer.patch(path, await versionOf(path), { ratedPressure: pascal(Number(lowest)) }).expect(200);
  },
  'keep-unclamp-open': async ({ circuit }) => {
    const path = `/circuits/${circuit.id}`;
    await engineer.patch(path, await versionOf(path), { unclampLineCanBlock: false }).expect(200);
  },
  reaction: async (_overview, { field, choice }, machineId) => {
    const path = `/machines/${machineId}`;
    const { body } = await engineer.get(path).expect(200);
    await engineer
      .patch(path, body.version, { controlBehaviour: { ...body.controlBehaviour, [field]: choice } })
      .expect(200);
  },
  relief: async (_overview, { id, lowest, apart }) =>
    exchange(id, { openingPressure: Number(lowest), fullFlowPressure: Number(lowest) + Number(apart) }),
  // What was read stood on the switch that is gone.
  'switch-accuracy': async (overview, { id, highest }) => {
    await exchange(id, { accuracy: Number(highest) });
    await readAgain(overview, {});
  },
  'shared-lowest': async (overview, { lowest }) =>
    readAgain(overview, {
      lowestWhileShared: pascal(Number(lowest)),
      decay: overview.asLeft?.decay ?? pascal(1e5),
      decayDuration: overview.asLeft?.decayDuration ?? { value: 600, unit: 's' },
    }),
};

describe('the way out of every circuit of the demonstration that does not hold', () => {
  it('is told of each, and of none that holds', async () => {
    expect(troubled.length).toBeGreaterThanOrEqual(9);
    for (const { machineId } of troubled) {
      const { body } = await engineer.get(`/machines/${machineId}/overview`).expect(200);
      for (const { ladder, circuit } of (body as MachineOverview).circuits) {
        const isRight = ladder.checks.every(({ status }) => status === 'holds' || status === 'not-applicable');
        expect((await wayOutOf(circuit.id)) === null).toBe(isRight);
      }
    }
  });

  it('done to the letter makes every check hold, or says what is to be recorded, or what nothing mends', async () => {
    const outcomes = new Map<string, number>();
    for (const { machineId, circuitId } of troubled) {
      const before = await overviewOf(machineId, circuitId);
      const wayOut = await wayOutOf(circuitId);
      if (wayOut === null) throw new Error(`no way out of ${circuitId}`);
      outcomes.set(wayOut.outcome, (outcomes.get(wayOut.outcome) ?? 0) + 1);
      if (wayOut.outcome === 'none') {
        const asked = before.ladder.checks.filter(({ status }) => status === 'fails').map(({ code }) => code);
        expect(wayOut.bounds.map(({ code }) => code)).toEqual(expect.arrayContaining(asked));
        continue;
      }
      const set = wayOut.changes.filter(({ holder }) => holder === 'settings');
      for (const change of wayOut.changes) {
        if (set.includes(change)) continue;
        await DONE[change.code]?.(await overviewOf(machineId, circuitId), change, machineId);
        expect(Object.keys(DONE)).toContain(change.code);
      }
      if (wayOut.changes.length === 0) {
        const missing = before.ladder.checks.flatMap((check) => check.missing.map(({ field }) => field));
        expect(new Set(wayOut.records.map(({ field }) => field))).toEqual(new Set(missing));
        continue;
      }
      for (const end of set.length === 0 ? (['lowest'] as const) : (['lowest', 'highest'] as const)) {
        if (set.length > 0) await release(await overviewOf(machineId, circuitId), set, end);
        const after = await overviewOf(machineId, circuitId, set.length > 0 ? 'target' : 'as-left');
        const wrong = after.ladder.checks.filter(({ status }) => status !== 'holds' && status !== 'not-applicable');
        expect(wrong.map(({ code, reason }) => `${circuitId} ${end} ${code} ${reason}`)).toEqual([]);
        expect(await wayOutOf(circuitId, set.length > 0 ? 'target' : 'as-left')).toBeNull();
      }
    }
    expect(outcomes.get('whole')).toBeGreaterThanOrEqual(5);
    expect(outcomes.get('none')).toBe(1);
  });
});
