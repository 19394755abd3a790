import { randomBytes } from 'node:crypto';
import { allRoutes, CUSTOMER_ROLES, ROLES, STAFF_ROLES, type Route } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import {
  aCircuit,
  addPerson,
  ago,
  asSuperuser,
  anOrganisation,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
import { aBody, aGateway, anHour } from '../support/gateway.js';
import { PASSWORD, startApi, type TestApi, type TestClient } from '../support/api.js';

/** Everything that a request may name, of one owner. */
interface Owned extends CircuitWorld {
  organisationId: string;
  membershipId: string;
  sizingRecordId: string;
  issueId: string;
  installedId: string;
  sourceId: string;
  sourceMachineId: string;
  findingId: string;
  alarmRuleId: string;
  jobId: string;
  importId: string;
  invitationId: string;
  memberSessionId: string;
}

let api: TestApi;
let home: Organisation;
let own: Owned;
let otherCustomer: Owned;
let otherOrganisation: Owned;
const clients = new Map<string, TestClient>();

const bar = (value: number) => ({ value, unit: 'bar' });

/** Ids that nobody has. */
const nobody = (): Owned => {
  const random = new Proxy({} as Owned, { get: () => uuidv7() });
  return random;
};

/** A token of a link that nobody was given. */
const makeLinkToken = (): string => randomBytes(32).toString('base64url');

/** The record that `{id}` stands for, by path. */
const PATH_IDS: [RegExp, (owned: Owned) => string][] = [
  [/^\/sessions\//, () => uuidv7()],
  [/^\/memberships\//, (o) => o.membershipId],
  [/^\/invitations\//, (o) => o.invitationId],
  [/^\/customers\//, (o) => o.customerId],
  [/^\/sites\//, (o) => o.siteId],
  [/^\/machines\//, (o) => o.machineId],
  [/^\/power-units\//, (o) => o.powerUnitId],
  [/^\/circuits\//, (o) => o.circuitId],
  [/^\/component-types\//, (o) => o.hoseTypeId],
  [/^\/installed-components\//, (o) => o.installedId],
  [/^\/m-codes\//, (o) => o.mCodeId],
  [/^\/signals\//, (o) => o.signalId],
  [/^\/wires\//, (o) => o.wireId],
  [/^\/fixtures\//, (o) => o.fixtureId],
  [/^\/operations\//, (o) => o.operationId],
  [/^\/target-settings\//, (o) => o.targetSettingId],
  [/^\/setup-records\//, (o) => o.setupRecordId],
  [/^\/sizing-records\//, (o) => o.sizingRecordId],
  [/^\/issues\//, (o) => o.issueId],
  [/^\/sources\//, (o) => o.sourceId],
  [/^\/source-machines\//, (o) => o.sourceMachineId],
  [/^\/findings\//, (o) => o.findingId],
  [/^\/alarm-rules\//, (o) => o.alarmRuleId],
  [/^\/jobs\//, (o) => o.jobId],
  [/^\/imports\//, (o) => o.importId],
  [/^\/export-files\//, (o) => o.jobId],
  [/^\/calculations\//, () => 'cylinder-force'],
];

/** What a list needs to be asked for. */
const QUERIES: Record<string, (owned: Owned) => string> = {
  listTargetSettings: (o) => `?circuitId=${o.circuitId}`,
  listSetupRecords: (o) => `?circuitId=${o.circuitId}`,
  listServiceEvents: (o) => `?machineId=${o.machineId}`,
  listByLot: () => '?lot=LOT-W',
  listMachines: (o) => `?customerId=${o.customerId}`,
  listSites: (o) => `?customerId=${o.customerId}`,
  listFixtures: (o) => `?customerId=${o.customerId}`,
  listFixtureFittings: (o) => `?machineId=${o.machineId}`,
  listOperations: (o) => `?fixtureId=${o.fixtureId}`,
  listMCodes: (o) => `?machineId=${o.machineId}`,
  listSignals: (o) => `?machineId=${o.machineId}`,
  listWires: (o) => `?machineId=${o.machineId}`,
  listPowerUnits: (o) => `?machineId=${o.machineId}`,
  listCircuits: (o) => `?machineId=${o.machineId}`,
  listInstalledComponents: (o) => `?machineId=${o.machineId}`,
  listSizingRecords: (o) => `?machineId=${o.machineId}`,
  listStandings: (o) => `?customerId=${o.customerId}`,
  listFindings: (o) => `?sourceId=${o.sourceId}`,
  listAlarmRules: (o) => `?machineId=${o.machineId}`,
  getAlarmCounts: () => `?from=${ago(7)}&to=${ago(0)}`,
  downloadImportTemplate: () => '?entity=site',
  listIssues: (o) => `?machineId=${o.machineId}`,
};

/** A body that is right for its shape, naming records of one owner. A route with a body and no row here fails the walk. */
const BODIES: Record<string, (owned: Owned) => object> = {
  createSession: () => ({ email: 'nobody@test.example', password: PASSWORD }),
  updateMe: () => ({ theme: 'dark' }),
  createProof: () => ({ password: PASSWORD }),
  changePassword: () => ({ currentPassword: 'not the password of anybody', newPassword: 'a new one for the walk' }),
  createPasswordReset: () => ({ email: 'nobody@test.example' }),
  completePasswordReset: () => ({ token: makeLinkToken(), newPassword: 'a new one for the walk' }),
  createAddressProof: () => ({ email: 'nobody@test.example' }),
  completeAddressProof: () => ({ token: makeLinkToken() }),
  confirmAuthenticator: () => ({ code: '000000' }),
  updateSignInPolicy: () => ({ demandsSecondFactor: false }),
  switchMembership: () => ({ membershipId: uuidv7() }),
  createInvitation: (o) => ({
    id: uuidv7(),
    email: `${uuidv7()}@test.example`,
    displayName: 'New',
    role: 'viewer',
    customerId: o.customerId,
  }),
  createMembershipInvitation: () => ({ id: uuidv7(), email: `${uuidv7()}@test.example` }),
  readInvitation: () => ({ token: makeLinkToken() }),
  createMyMembership: () => ({ token: makeLinkToken() }),
  acceptInvitation: () => ({
    token: makeLinkToken(),
    as: { account: 'new', email: 'walk@test.example', displayName: 'W', newPassword: 'a new one for the walk' },
  }),
  updateMembership: () => ({ displayName: 'Renamed' }),
  updateOrganisation: () => ({
    marginsAsked: {
      'holds-workpiece': 0.03,
      'no-nuisance-stop': 0.02,
      'setting-within-rating': 0.03,
      'highest-within-rating': 0,
      'workpiece-limit': 0.02,
    },
  }),
  createCustomer: () => ({ id: uuidv7(), name: `New ${uuidv7()}` }),
  updateCustomer: () => ({ note: 'walked' }),
  createSite: (o) => ({
    id: uuidv7(),
    customerId: o.customerId,
    name: `Hall ${uuidv7()}`,
    place: 'Braga',
    timeZone: 'Europe/Lisbon',
  }),
  updateSite: () => ({ note: 'walked' }),
  createMachine: (o) => ({
    id: uuidv7(),
    siteId: o.siteId,
    name: `M ${uuidv7()}`,
    form: 'single-station',
    wayIn: 'direct',
    stations: [{ id: uuidv7(), name: 'S' }],
  }),
  updateMachine: () => ({ kitList: 'walked' }),
  createPowerUnit: (o) => ({ id: uuidv7(), machineId: o.machineId, name: `U ${uuidv7()}`, drive: 'air' }),
  updatePowerUnit: () => ({ note: 'walked' }),
  createCircuit: (o) => ({ id: uuidv7(), powerUnitId: o.powerUnitId, stationId: o.stationId, name: `C ${uuidv7()}` }),
  updateCircuit: () => ({ note: 'walked' }),
  createMCode: (o) => ({
    id: uuidv7(),
    machineId: o.machineId,
    stationId: o.stationId,
    code: `M${uuidv7().slice(-8)}`,
    action: 'other',
  }),
  updateMCode: () => ({ note: 'walked' }),
  createSignal: (o) => ({
    id: uuidv7(),
    machineId: o.machineId,
    circuitId: o.circuitId,
    direction: 'input',
    name: `B${uuidv7().slice(-8)}`,
  }),
  updateSignal: () => ({ note: 'walked' }),
  createWire: (o) => ({ id: uuidv7(), signalId: o.signalId, number: '9', fromTerminal: 'X1', toTerminal: 'X2' }),
  updateWire: () => ({ note: 'walked' }),
  createComponentType: () => ({ id: uuidv7(), kind: 'hose', name: `T ${uuidv7()}` }),
  updateComponentType: () => ({ note: 'walked', reason: 'walk' }),
  installComponent: (o) => ({
    id: uuidv7(),
    machineId: o.machineId,
    circuitId: o.circuitId,
    componentTypeId: o.hoseTypeId,
    designation: `H9.${uuidv7().slice(-6)}`,
    lineFunctions: ['clamp'],
    validFrom: ago(1),
  }),
  removeComponent: () => ({ validTo: ago(0), reason: 'walk' }),
  createFixture: (o) => ({ id: uuidv7(), customerId: o.customerId, name: `F ${uuidv7()}` }),
  updateFixture: () => ({ note: 'walked' }),
  fitFixture: (o) => ({ id: uuidv7(), fixtureId: o.fixtureId, stationId: o.stationId, validFrom: ago(0) }),
  createOperation: (o) => ({ id: uuidv7(), fixtureId: o.fixtureId, number: 90, name: 'walk', validFrom: ago(1) }),
  updateOperation: () => ({ name: 'walked' }),
  releaseTargetSetting: (o) => ({
    id: uuidv7(),
    circuitId: o.circuitId,
    setting: bar(170),
    reason: 'walk',
    afterRevision: 1,
  }),
  createSetupRecord: (o) => ({
    id: uuidv7(),
    circuitId: o.circuitId,
    setting: bar(170),
    reportName: 'R',
    reason: 'walk',
    measuredAt: ago(1),
    measuredByName: 'W',
    afterRevision: 1,
  }),
  createSizingRecord: (o) => ({ id: uuidv7(), circuitId: o.circuitId }),
  createIssue: (o) => ({ id: uuidv7(), machineId: o.machineId, circuitId: o.circuitId, title: 'walk' }),
  updateIssue: () => ({ title: 'walked' }),
  commentIssue: () => ({ id: uuidv7(), text: 'walked' }),
  closeIssue: () => ({ reason: 'walk' }),
  reopenIssue: () => ({ reason: 'walk' }),
  createServiceEvent: (o) => ({
    id: uuidv7(),
    machineId: o.machineId,
    kind: 'other',
    occurredAt: ago(1),
    text: 'walk',
    personName: 'W',
  }),
  createSource: () => ({ id: uuidv7(), name: `S ${uuidv7()}` }),
  updateSource: () => ({ silentAfterS: 3600 }),
  rotateSourceSecret: () => ({ overlapHours: 1 }),
  createSourceMachine: (o) => ({ id: uuidv7(), externalReference: `M ${uuidv7()}`, machineId: o.machineId }),
  deliverAlarmCounts: () => ({ type: 'alarm.counts', timestamp: ago(0), data: [] }),
  settleFinding: (o) => ({ sourceId: o.sourceId, webhookId: 'walk' }),
  retryFinding: () => ({}),
  dismissFinding: () => ({ reason: 'walk' }),
  createAlarmRule: (o) => ({
    id: uuidv7(),
    circuitId: o.circuitId,
    alarmKind: null,
    threshold: 3,
    windowS: 3600,
    isOn: true,
  }),
  updateAlarmRule: () => ({ threshold: 4 }),
  createImport: () => ({ id: uuidv7(), fileName: 'walk.csv' }),
  startExport: () => ({ table: 'customers', format: 'csv' }),
  updateImport: () => ({ mapping: { sheets: [], hiddenRows: false, hiddenColumns: false } }),
  commitImport: () => ({}),
  calculate: () => ({ bore: { value: 40, unit: 'mm' }, rod: { value: 25, unit: 'mm' }, pressure: bar(100) }),
};

/** Bodies and addresses that name nobody's records: the owner makes no difference to them. */
const OWNERLESS = new Set([
  'createSession',
  'listSessions',
  'endSession',
  'endCurrentSession',
  'getMe',
  'updateMe',
  'createProof',
  'changePassword',
  'createPasswordReset',
  'completePasswordReset',
  'createAddressProof',
  'completeAddressProof',
  'endOtherSessions',
  'switchMembership',
  'getAuthenticator',
  'proposeAuthenticator',
  'confirmAuthenticator',
  'renewRecoveryCodes',
  'removeAuthenticator',
  'getSignInPolicy',
  'updateSignInPolicy',
  'listNotices',
  'seeNotices',
  'listInvitations',
  // A link is the right to it, whoever holds it: test/api/memberships.test.ts.
  'readInvitation',
  'acceptInvitation',
  'createMyMembership',
  'listMemberships',
  'getOrganisation',
  'updateOrganisation',
  'listCustomers',
  'createCustomer',
  'countStandings',
  'listComponentTypes',
  'createComponentType',
  'listByLot',
  'listSources',
  'createSource',
  // Its signature is the right; which source is there is told before, as the scheme of webhooks has it (404, 410, 401).
  'deliverAlarmCounts',
  'listAuditEntries',
  'listJobs',
  'listImports',
  'createImport',
  'downloadImportTemplate',
  // Which rows come is test/api/exports.test.ts's: the address names nobody's.
  'downloadExport',
  'startExport',
  'listCalculations',
  'getCalculation',
  'calculate',
]);

async function build(organisation: Organisation, name: string): Promise<Owned> {
  const engineer = await api.as(organisation.emails.engineer);
  const world = await aCircuit(engineer, name);
  const [sizingRecordId, issueId] = [uuidv7(), uuidv7()];
  await engineer.post('/sizing-records', { id: sizingRecordId, circuitId: world.circuitId }).expect(201);
  await engineer.post('/issues', { id: issueId, machineId: world.machineId, title: 'Something' }).expect(201);
  const administrator = await api.as(organisation.emails.administrator);
  const [sourceMachineId, alarmRuleId] = [uuidv7(), uuidv7()];
  const gateway = await aGateway(api, administrator);
  const mapping = { id: sourceMachineId, externalReference: 'M-1', machineId: world.machineId };
  await administrator.post(`/sources/${gateway.sourceId}/machines`, mapping).expect(201);
  await gateway.send(aBody('M-unknown', [anHour('Station 1', 3)])).expect(200);
  const { body: found } = await administrator.get(`/findings?sourceId=${gateway.sourceId}`).expect(200);
  const findingId = (found as { items: { id: string }[] }).items[0]?.id ?? '';
  const rule = { alarmKind: null, threshold: 3, windowS: 3600, isOn: true };
  await administrator.post('/alarm-rules', { id: alarmRuleId, circuitId: world.circuitId, ...rule }).expect(201);
  // Somebody who walks nowhere: their session is there until it is ended.
  await addPerson(api, organisation, `member-${name}`, 'installer', null);
  const membershipId = organisation.memberships[`member-${name}`] ?? '';
  const [jobId, importId, invitationId] = [uuidv7(), uuidv7(), uuidv7()];
  const invitation = { id: invitationId, email: 'walk@test.example', displayName: 'Walk', role: 'installer' };
  await administrator.post('/invitations', invitation).expect(201);
  await api.as(organisation.emails[`member-${name}`]);
  const { body: sessions } = await administrator.get(`/memberships/${membershipId}/sessions`).expect(200);
  const memberSessionId = (sessions as { items: { id: string }[] }).items[0]?.id ?? '';
  await engineer.post('/imports', { id: importId, fileName: 'walk.csv' }).expect(201);
  await asSuperuser(api, (client) =>
    client.query(`INSERT INTO jobs (organisation_id, id, kind, requested_by) VALUES ($1, $2, 'walk', $3)`, [
      organisation.id,
      jobId,
      membershipId,
    ]),
  );
  return {
    ...world,
    organisationId: organisation.id,
    membershipId,
    sizingRecordId,
    issueId,
    installedId: world.hoseId,
    sourceId: gateway.sourceId,
    sourceMachineId,
    findingId,
    alarmRuleId,
    jobId,
    importId,
    invitationId,
    memberSessionId,
  };
}

beforeAll(async () => {
  api = await startApi();
  home = await anOrganisation(api, 'Home');
  const away = await anOrganisation(api, 'Away');
  own = await build(home, 'W');
  otherCustomer = await build(home, 'N');
  otherOrganisation = await build(away, 'T');
  await addPerson(api, home, 'viewer', 'viewer', own.customerId);
  await addPerson(api, home, 'customer-administrator', 'customer-administrator', own.customerId);
  for (const role of ROLES) clients.set(role, await api.as(home.emails[role]));
  clients.set('nobody', await api.as());
});
afterAll(() => api.stop());

async function ask(route: Route, who: string, about: Owned) {
  const pathId = PATH_IDS.find(([pattern]) => pattern.test(route.path))?.[1];
  if (route.path.includes('{id}') && pathId === undefined) throw new Error(`the walk does not know ${route.path}`);
  const path =
    route.path
      .replace('{id}', pathId?.(about) ?? '')
      .replace('{table}', 'customers')
      .replace('{sessionId}', about.memberSessionId) + (QUERIES[route.id]?.(about) ?? '');
  const body = BODIES[route.id];
  if (route.body !== undefined && body === undefined) throw new Error(`the walk has no body for ${route.id}`);
  const headers = {
    ...(route.ifMatch === true ? { 'if-match': '"v1"' } : {}),
    ...(route.idempotent === true ? { 'idempotency-key': `"${uuidv7()}"` } : {}),
  };
  const client = clients.get(who);
  if (client === undefined) throw new Error(`nobody is ${who}`);
  if (route.upload === true) {
    const bytes = { ...headers, 'content-type': 'application/octet-stream' };
    return client.call(route.method, path, bytes, Buffer.from('Customer\nWalk\n'));
  }
  return client.call(route.method, path, headers, body?.(about));
}

/** What a stranger can tell from an answer. */
const visible = (response: { status: number; body: Record<string, unknown> }) => {
  const { requestId: _request, instance: _instance, ...rest } = response.body;
  return { status: response.status, body: rest };
};

const mayCall = (route: Route, role: string): boolean =>
  route.access === 'public' || route.access === 'person' || (route.access as readonly string[]).includes(role);
const leavesRunning = (route: Route): boolean => route.id !== 'endCurrentSession';

describe('every route as every role', () => {
  it.each(allRoutes.map((route) => [`${route.method} ${route.path}`, route] as const))('%s', async (_name, route) => {
    if (route.access !== 'public') {
      const signedOut = await ask(route, 'nobody', own);
      expect([signedOut.status, signedOut.body.code]).toEqual([401, 'session.needed']);
    }
    let isGone = false;
    for (const role of ROLES.filter(() => leavesRunning(route))) {
      if (!mayCall(route, role)) {
        const refused = await ask(route, role, own);
        expect([role, refused.status, refused.body.code]).toEqual([role, 403, 'session.role']);
        continue;
      }
      if (OWNERLESS.has(route.id)) {
        const answer = await ask(route, role, own);
        expect([role, answer.status < 500]).toEqual([role, true]);
        const isRefused = [401, 403].includes(answer.status) && answer.body.code !== 'session.code_wrong';
        expect(isRefused && route.access !== 'public').toBe(false);
        continue;
      }
      // Not yours answers exactly like not there: to everybody for another organisation, to customers for another customer.
      const unknown = visible(await ask(route, role, nobody()));
      expect(visible(await ask(route, role, otherOrganisation))).toEqual(unknown);
      if (CUSTOMER_ROLES.some((one) => one === role)) {
        expect(visible(await ask(route, role, otherCustomer))).toEqual(unknown);
      }
      const isList = route.path.includes('{id}') === false && route.method === 'GET';
      expect([role, unknown.status]).toEqual([role, isList ? 200 : 404]);
      const answer = await ask(route, role, own);
      // What one role has taken away is not there for the next.
      if (isGone) expect([role, answer.status]).toEqual([role, 404]);
      else expect([role, answer.status, answer.body.code]).not.toEqual([role, 404, 'request.not_found']);
      isGone ||= route.method === 'DELETE' && answer.status === 204;
      expect(answer.status).toBeLessThan(500);
      expect([401, 403]).not.toContain(answer.status);
    }
  });

  it('every route of the description is walked, and every walked route is described', async () => {
    const { body } = await (clients.get('nobody') as TestClient).get('/openapi.json').expect(200);
    const described = Object.entries(body.paths as Record<string, Record<string, { operationId: string }>>).flatMap(
      ([path, methods]) =>
        Object.entries(methods).map(
          ([method, operation]) => `${operation.operationId} ${method.toUpperCase()} ${path}`,
        ),
    );
    expect(described.sort()).toEqual(
      allRoutes.map((route) => `${route.id} ${route.method} /api/v1${route.path}`).sort(),
    );
    expect(new Set(allRoutes.map((route) => route.id)).size).toBe(allRoutes.length);
  });

  it('a right that is taken away is gone with the next request', async () => {
    await addPerson(api, home, 'leaver', 'lead', null);
    const leaver = await api.as(home.emails.leaver);
    await leaver.get('/customers').expect(200);
    const administrator = clients.get('administrator') as TestClient;
    await administrator.patch(`/memberships/${home.memberships.leaver}`, 1, { role: 'installer' }).expect(200);
    await leaver.get('/audit-entries').expect(403);
    await administrator.patch(`/memberships/${home.memberships.leaver}`, 2, { archived: true }).expect(200);
    await leaver.get('/customers').expect(401);
    expect(STAFF_ROLES).toContain('lead');
  });
});
