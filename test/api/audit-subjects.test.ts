import { allRoutes, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { buildOwned } from '../tenancy/support/build-owned.js';
import { BODIES, PATH_IDS, type Owned } from '../tenancy/support/walk.js';

let api: TestApi;
beforeAll(async () => {
  api = await startApi();
});
afterAll(() => api.stop());

interface Entry {
  id: string;
  entity: string;
  entityId: string;
  subject: { name: string; machineId: string | null; machineName: string | null } | null;
}

it('the trail names each record and the machine that it belongs to', async () => {
  const organisation = await anOrganisation(api, 'Named');
  const engineer = await api.as(organisation.emails.engineer);
  await aCircuit(engineer, 'Named');
  const { items } = (await engineer.get('/audit-entries?limit=200').expect(200)).body as { items: Entry[] };
  const machine = items.find(({ entity }) => entity === 'machine');
  const machineName = machine?.subject?.name;
  expect(machine?.subject).toEqual({ name: expect.any(String), machineId: machine?.entityId, machineName });
  const ofMachine = items.filter(({ entity }) => ['power-unit', 'circuit', 'installed-component'].includes(entity));
  expect(new Set(ofMachine.map(({ entity }) => entity))).toContain('circuit');
  for (const { subject } of ofMachine) {
    expect(subject).toEqual({ name: expect.stringMatching(/./), machineId: machine?.entityId, machineName });
  }
  const customer = items.find(({ entity }) => entity === 'customer');
  expect(customer?.subject).toMatchObject({ machineId: null, machineName: null });

  // Another organisation's trail names nothing of this one.
  const stranger = await anOrganisation(api, 'Elsewhere');
  const other = await api.as(stranger.emails.engineer);
  expect((await other.get('/audit-entries').expect(200)).body.items).toEqual([]);
});

describe('whatever a person does to a record', () => {
  /** Nothing of the organisation's is changed by it, or what is changed is told record by record when it is written. */
  const CHANGES_NO_RECORD = new Set([
    'calculate',
    'replaySizingRecord',
    // Of a file that is read: its rows are told once they are committed, by the job that commits them (test/imports).
    'uploadImportFile',
    'checkImport',
    'commitImport',
    'undoImport',
    // What leaves is told when its file is written (test/api/exports.test.ts).
    'startExport',
    // A report is looked at again; what it then writes is a report's, and the finding stays as it is.
    'retryFinding',
  ]);
  /** What needs another state than the walk's world has; each has a test of its own, which looks into the trail. */
  const ELSEWHERE = new Set([
    // asks the provider itself: test/api/identity-providers.test.ts
    'createIdentityProvider',
    // of a finding that one may choose in: test/api/ingest.test.ts
    'settleFinding',
  ]);
  const doings = allRoutes.filter(
    ({ id, method, access }) =>
      ['POST', 'DELETE'].includes(method) && Array.isArray(access) && !CHANGES_NO_RECORD.has(id) && !ELSEWHERE.has(id),
  );
  // What takes something away comes last, and what needs it closed after what closes it.
  const LATE = ['closeIssue', 'reopenIssue', 'withdrawInvitation', 'endMembershipSession'];
  const lateness = ({ id, method }: Route): number =>
    LATE.includes(id) ? 1 + LATE.indexOf(id) : method === 'DELETE' ? LATE.length + 1 : 0;
  const walked = [...doings].sort((a, b) => lateness(a) - lateness(b));

  let owned: Owned;
  const clients = new Map<string, TestClient>();
  const versions: Record<string, number> = { reopenIssue: 2 };
  /** A circuit without components: their designations are taken on its machine. */
  const bareCircuitId = uuidv7();
  /** Of a machine at which nothing is fitted or wired yet. */
  const BARE = { machineId: uuidv7(), stationId: uuidv7(), powerUnitId: uuidv7(), circuitId: uuidv7() };
  const OWN_BODIES: Record<string, object> = {
    createCircuit: { id: bareCircuitId },
    copyComponentsOfCircuit: { circuitId: BARE.circuitId },
    copyComponentsOfPowerUnit: { powerUnitId: BARE.powerUnitId },
    // The walk's world has a rule of its circuit.
    createAlarmRule: { circuitId: null },
  };
  beforeAll(async () => {
    const organisation = await anOrganisation(api, 'Walked');
    owned = await buildOwned(api, organisation, 'A');
    for (const role of ['engineer', 'administrator']) clients.set(role, await api.as(organisation.emails[role]));
    const { machineId, stationId, powerUnitId, circuitId } = BARE;
    const stations = [{ id: stationId, name: 'S' }];
    const station = { stationId, likeStationId: owned.stationId };
    OWN_BODIES['copyControl'] = { machineId, stations: [station] };
    const engineer = clients.get('engineer');
    const machine = {
      id: machineId,
      siteId: owned.siteId,
      name: 'Bare',
      form: 'single-station',
      wayIn: 'direct',
      stations,
    };
    await engineer?.post('/machines', machine).expect(201);
    await engineer?.post('/power-units', { id: powerUnitId, machineId, name: 'Unit', drive: 'air' }).expect(201);
    await engineer?.post('/circuits', { id: circuitId, powerUnitId, stationId, name: 'Bare' }).expect(201);
  });
  const readTrail = async (): Promise<Entry[]> =>
    ((await clients.get('administrator')?.get('/audit-entries?limit=200').expect(200))?.body as { items: Entry[] })
      .items;

  it.each(walked.map((route): [string, Route] => [route.id, route]))('%s is told by name', async (_id, route) => {
    const before = new Set((await readTrail()).map(({ id }) => id));
    const known = PATH_IDS.find(([pattern]) => pattern.test(route.path))?.[1](owned) ?? '';
    const pathId = route.id === 'copyCircuit' ? bareCircuitId : known;
    const path = route.path.replace('{id}', pathId).replace('{sessionId}', owned.memberSessionId);
    // A job is cancelled by whoever asked for it, or by an administrator.
    const isForEngineer = (route.access as readonly string[]).includes('engineer') && route.id !== 'cancelJob';
    const client = clients.get(isForEngineer ? 'engineer' : 'administrator');
    const headers = {
      ...(route.ifMatch === true ? { 'if-match': `"v${versions[route.id] ?? 1}"` } : {}),
      ...(route.idempotent === true ? { 'idempotency-key': `"${uuidv7()}"` } : {}),
    };
    const body = { ...BODIES[route.id]?.(owned), ...OWN_BODIES[route.id] };
    const answer = await client?.call(route.method, path, headers, route.body === undefined ? undefined : body);
    if (answer?.status !== route.status) throw new Error(answer?.text);
    const added = (await readTrail()).filter(({ id }) => !before.has(id));
    expect(added).not.toEqual([]);
    for (const { subject } of added) expect(subject?.name).toEqual(expect.stringMatching(/./));
  });
});
