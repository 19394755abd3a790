import { allRoutes, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import {
  addPerson,
  ago,
  aCircuit,
  anOrganisation,
  asSuperuser,
  CONTROL,
  type CircuitWorld,
} from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

interface World extends CircuitWorld {
  issueId: string;
  sourceId: string;
  alarmRuleId: string;
  apiKeyId: string;
  membershipId: string;
  identityProviderId: string;
  organisationId: string;
}
interface Entry {
  action: string;
  entity: string;
  entityId: string;
  subject: { name: string; machineId: string | null; machineName: string | null } | null;
  changes: Record<string, unknown>;
  names: Record<string, string>;
}

let api: TestApi;
let world: World;
let administrator: TestClient;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Edited');
  await addPerson(api, organisation, 'edited', 'installer', null);
  engineer = await api.as(organisation.emails.engineer);
  administrator = await api.as(organisation.emails.administrator);
  const ids = { issueId: uuidv7(), sourceId: uuidv7(), alarmRuleId: uuidv7(), apiKeyId: uuidv7() };
  const circuit = await aCircuit(engineer, 'Edited');
  const { machineId, circuitId } = circuit;
  await engineer.post('/issues', { id: ids.issueId, machineId, title: 'Leaks' }).expect(201);
  await administrator.post('/sources', { id: ids.sourceId, name: 'Gateway 1' }).expect(201);
  const rule = { alarmKind: null, threshold: 3, windowS: 3600, isOn: true };
  await administrator.post('/alarm-rules', { id: ids.alarmRuleId, circuitId, ...rule }).expect(201);
  const key = { id: ids.apiKeyId, name: 'Key 1', role: 'lead', areas: ['machines'], mayWrite: true };
  await administrator.post('/api-keys', key).expect(201);
  const identityProviderId = uuidv7();
  await asSuperuser(api, (client) =>
    client.query(
      `INSERT INTO identity_providers (organisation_id, id, name, issuer, client_id, client_secret_sealed)
       VALUES ($1, $2, 'Sign-in 1', 'https://127.0.0.1/nobody', 'walk', '')`,
      [organisation.id, identityProviderId],
    ),
  );
  const membershipId = organisation.memberships['edited'] ?? '';
  world = { ...circuit, ...ids, membershipId, identityProviderId, organisationId: organisation.id };
});
afterAll(() => api.stop());

interface Edit {
  /** whose address it is; of the organisation alone there is one */
  id: (world: World) => string;
  body: object;
  /** the fields with what they held before and hold now, as the trail is to tell */
  told: Record<string, unknown>;
  /** as the trail and the search for it call the record */
  subject: string;
}
const bar = (value: number) => ({ value, unit: 'bar' });
const MARGINS = {
  'holds-workpiece': 0.03,
  'no-nuisance-stop': 0.02,
  'setting-within-rating': 0.03,
  'highest-within-rating': 0,
  'workpiece-limit': 0.02,
};

/** An edit of each kind of record: a route of the contracts that edits and has no row here fails. */
const EDITS: Record<string, Edit> = {
  updateCustomer: {
    id: ({ customerId }) => customerId,
    body: { note: 'ring first', name: 'Customer Edited' },
    told: { note: { from: '', to: 'ring first' } },
    subject: 'Customer Edited',
  },
  updateSite: {
    id: ({ siteId }) => siteId,
    body: { place: 'Porto' },
    told: { place: { from: 'Braga', to: 'Porto' } },
    subject: 'Works',
  },
  updateMachine: {
    id: ({ machineId }) => machineId,
    body: { kitList: 'two gauges', controlBehaviour: { ...CONTROL.controlBehaviour, onAirLow: 'nothing' } },
    told: { kitList: { from: '', to: 'two gauges' }, controlBehaviour: { onAirLow: { from: 'stop', to: 'nothing' } } },
    subject: 'VMC-Edited',
  },
  updatePowerUnit: {
    id: ({ powerUnitId }) => powerUnitId,
    body: { plantAirLow: bar(5.4), plantAirHigh: bar(6.5) },
    told: { plantAirLow: { from: bar(5.2), to: bar(5.4) } },
    subject: 'Power unit 1',
  },
  updateCircuit: {
    id: ({ circuitId }) => circuitId,
    body: { returnPressure: bar(3), canTrap: true, archived: false },
    told: { returnPressure: { from: bar(2), to: bar(3) }, canTrap: { from: false, to: true } },
    subject: 'Station 1',
  },
  updateMCode: {
    id: ({ mCodeId }) => mCodeId,
    body: { note: 'rewritten' },
    told: { note: { from: '', to: 'rewritten' } },
    subject: 'M21',
  },
  updateSignal: {
    id: ({ signalId }) => signalId,
    body: { suppressionVoltageV: 36 },
    told: { suppressionVoltageV: { from: 33, to: 36 } },
    subject: 'Y1',
  },
  updateWire: {
    id: ({ wireId }) => wireId,
    body: { colour: 'brown', length: { value: 14, unit: 'm' } },
    told: {
      colour: { from: '', to: 'brown' },
      length: { from: { value: 12, unit: 'm' }, to: { value: 14, unit: 'm' } },
    },
    subject: '10',
  },
  updateComponentType: {
    id: ({ hoseTypeId }) => hoseTypeId,
    body: {
      reason: 'data sheet read again',
      figures: {
        ratedPressure: { value: 260, unit: 'bar', source: 'test data, invented' },
        innerDiameter: { value: 6, unit: 'mm', source: 'test data, invented' },
        length: { value: 2, unit: 'm', source: 'test data, invented' },
        expansionModulus: { value: 1.4, unit: 'GPa', source: 'test data, invented' },
      },
    },
    told: {
      reason: 'data sheet read again',
      figures: {
        ratedPressure: {
          from: { value: 275, unit: 'bar', source: 'test data, invented' },
          to: { value: 260, unit: 'bar', source: 'test data, invented' },
        },
      },
    },
    subject: 'hose Edited',
  },
  updateFixture: {
    id: ({ fixtureId }) => fixtureId,
    body: { ratedPressure: bar(200) },
    told: { ratedPressure: { from: bar(210), to: bar(200) } },
    subject: 'F-Edited',
  },
  updateOperation: {
    id: ({ operationId }) => operationId,
    body: { requiredPressure: bar(121), requiredSource: 'cut measured' },
    told: {
      requiredPressure: { from: bar(118), to: bar(121) },
      requiredSource: { from: '', to: 'cut measured' },
    },
    subject: '10 Rough face',
  },
  updateIssue: {
    id: ({ issueId }) => issueId,
    body: { title: 'Leaks at the union' },
    told: { title: { from: 'Leaks', to: 'Leaks at the union' } },
    subject: 'Leaks at the union',
  },
  updateSource: {
    id: ({ sourceId }) => sourceId,
    body: { name: 'Gateway 2' },
    told: { name: { from: 'Gateway 1', to: 'Gateway 2' } },
    subject: 'Gateway 2',
  },
  updateAlarmRule: {
    id: ({ alarmRuleId }) => alarmRuleId,
    body: { threshold: 4, windowS: 3600 },
    told: { threshold: { from: 3, to: 4 } },
    subject: 'Station 1',
  },
  updateApiKey: {
    id: ({ apiKeyId }) => apiKeyId,
    body: { mayWrite: false, archived: false },
    told: { mayWrite: { from: true, to: false } },
    subject: 'Key 1',
  },
  updateMembership: {
    id: ({ membershipId }) => membershipId,
    body: { displayName: 'Renamed', role: 'lead' },
    told: { displayName: { from: 'Test edited', to: 'Renamed' }, role: { from: 'installer', to: 'lead' } },
    subject: 'Renamed',
  },
  updateIdentityProvider: {
    id: ({ identityProviderId }) => identityProviderId,
    body: { name: 'Sign-in 2', clientSecret: 'never told' },
    told: { name: { from: 'Sign-in 1', to: 'Sign-in 2' } },
    subject: 'Sign-in 2',
  },
  updateOrganisation: {
    id: ({ organisationId }) => organisationId,
    body: { marginsAsked: { ...MARGINS, 'holds-workpiece': 0.05 } },
    told: { marginsAsked: { 'holds-workpiece': { from: 0.03, to: 0.05 } } },
    subject: 'Edited',
  },
  updateSignInPolicy: {
    id: ({ organisationId }) => organisationId,
    // Nobody here has a second factor to demand one with: said again, it changes nothing.
    body: { demandsSecondFactor: false },
    told: {},
    subject: 'Edited',
  },
};
/** Edits of no record: how a file is read before anything of it is written; what is written is told record by record. */
const OF_NO_RECORD = new Set(['updateImport']);

const edits = allRoutes.filter(
  ({ id, method, access }) => method === 'PATCH' && Array.isArray(access) && !OF_NO_RECORD.has(id),
);
const newestOf = async (entityId: string, action?: string): Promise<Entry | undefined> => {
  const { body } = await engineer.get(`/audit-entries?limit=200&entityId=${entityId}`).expect(200);
  return (body as { items: Entry[] }).items.find((entry) => action === undefined || entry.action === action);
};

it('every edit of a record has its row here', () => {
  expect(edits.map(({ id }) => id).sort()).toEqual(Object.keys(EDITS).sort());
});

it.each(edits.map((route): [string, Route] => [route.id, route]))(
  '%s tells what the fields held before and hold now, and of which record',
  async (routeId, route) => {
    const edit = EDITS[routeId];
    if (edit === undefined) throw new Error(`no edit for ${routeId}`);
    const id = edit.id(world);
    const version = routeId === 'updateSignInPolicy' ? 0 : 1;
    const path = route.path.replace('{id}', id);
    const { body } = await administrator.patch(path, version, edit.body).expect(200);
    // An operation that is edited goes on under an id of its own.
    const entry = await newestOf(routeId === 'updateOperation' ? (body as { id: string }).id : id, 'update');
    expect(entry?.changes).toEqual(edit.told);
    expect(entry?.subject?.name).toMatch(edit.subject);
    expect(JSON.stringify(entry)).not.toContain('never told');
  },
);

it('a setting that is released or recorded is told beside the one before it', async () => {
  const { circuitId, machineId } = world;
  const [targetId, setupId] = [uuidv7(), uuidv7()];
  const settings = { circuitId, setting: bar(180), setPoint: bar(150), resetPoint: bar(142), afterRevision: 1 };
  await engineer.post('/target-settings', { id: targetId, ...settings, reason: 'harder cut' }).expect(201);
  const measured = { reportName: 'R', measuredAt: ago(1), measuredByName: 'Test installer', reason: 'set again' };
  await engineer.post('/setup-records', { id: setupId, ...settings, ...measured }).expect(201);
  for (const id of [targetId, setupId]) {
    const entry = await newestOf(id);
    expect(entry?.changes).toMatchObject({ setting: { from: bar(175), to: bar(180) }, circuitId });
    expect(entry?.changes).not.toHaveProperty('setPoint');
    expect(entry?.subject).toEqual({ name: 'Station 1', machineId, machineName: 'VMC-Edited' });
    expect(entry?.names[circuitId]).toBe('Station 1');
  }
});

it('a sizing record says which record made it stale, on which machine, with what it held before and holds now', async () => {
  const { circuitId, hoseTypeId, machineId, fixtureId, stationId } = world;
  const id = uuidv7();
  await engineer.post('/sizing-records', { id, circuitId }).expect(201);
  const { body: type } = await engineer.get(`/component-types/${hoseTypeId}`).expect(200);
  const { figures, version } = type as { figures: Record<string, object>; version: number };
  const ratedPressure = { ...figures['ratedPressure'], ...bar(255) };
  const edit = { figures: { ...figures, ratedPressure }, reason: 'data sheet' };
  await engineer.patch(`/component-types/${hoseTypeId}`, version, edit).expect(200);
  const fitting = { id: uuidv7(), fixtureId, stationId, validFrom: ago(0) };
  await engineer.post('/fixture-fittings', fitting).expect(201);
  const { body: record } = await engineer.get(`/sizing-records/${id}`).expect(200);
  expect(record.staleReasons).toMatchObject([
    {
      change: 'update',
      subject: { name: 'hose Edited', machineId: null },
      changes: { figures: { ratedPressure: { from: bar(260), to: bar(255) } }, reason: 'data sheet' },
    },
    { change: 'fit', subject: { name: 'F-Edited, Station 1', machineId, machineName: 'VMC-Edited' }, changes: {} },
  ]);
  const { body: list } = await engineer.get(`/sizing-records?circuitId=${circuitId}`).expect(200);
  expect(list.items[0].staleReasons).toEqual(record.staleReasons);
});
