import { randomBytes } from 'node:crypto';
import { uuidv7 } from 'uuidv7';
import { ago, type CircuitWorld } from '../../builders/world.js';
import { PASSWORD } from '../../support/api.js';

/** Everything that a request may name, of one owner. */
export interface Owned extends CircuitWorld {
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
  apiKeyId: string;
  identityProviderId: string;
  memberSessionId: string;
}

const bar = (value: number) => ({ value, unit: 'bar' });

/** Ids that nobody has. */
export const nobody = (): Owned => {
  const random = new Proxy({} as Owned, { get: () => uuidv7() });
  return random;
};

/** A token of a link that nobody was given. */
const makeLinkToken = (): string => randomBytes(32).toString('base64url');

/** The record that `{id}` stands for, by path. */
export const PATH_IDS: [RegExp, (owned: Owned) => string][] = [
  [/^\/sessions\//, () => uuidv7()],
  [/^\/memberships\//, (o) => o.membershipId],
  [/^\/me\/passkeys\//, () => uuidv7()],
  [/^\/identity-providers\//, (o) => o.identityProviderId],
  [/^\/api-keys\//, (o) => o.apiKeyId],
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
export const QUERIES: Record<string, (owned: Owned) => string> = {
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

/** A passkey's answer in shape alone. */
const CREDENTIAL = { id: 'AAAA', rawId: 'AAAA', type: 'public-key', response: {} };

/** A body that is right for its shape, naming records of one owner. A route with a body and no row here fails the walk. */
export const BODIES: Record<string, (owned: Owned) => object> = {
  createSession: () => ({ email: 'nobody@test.example', password: PASSWORD }),
  updateMe: () => ({ theme: 'dark' }),
  createApiKey: () => ({ id: uuidv7(), name: `Key ${uuidv7()}`, role: 'lead', areas: ['machines'] }),
  updateApiKey: () => ({ mayWrite: false }),
  rotateApiKeySecret: () => ({}),
  createPasskey: () => ({ challengeId: uuidv7(), name: 'Walk', credential: CREDENTIAL }),
  createSessionByPasskey: () => ({ challengeId: uuidv7(), credential: CREDENTIAL }),
  createProofByPasskey: () => ({ challengeId: uuidv7(), credential: CREDENTIAL }),
  createIdentityProvider: () => ({
    id: uuidv7(),
    name: 'Walk',
    issuer: 'https://127.0.0.1/nobody',
    clientId: 'walk',
    clientSecret: 'walk',
  }),
  updateIdentityProvider: () => ({ name: 'Walked' }),
  createProviderSignIn: () => ({ organisationId: uuidv7() }),
  createProviderAcceptance: () => ({ token: makeLinkToken() }),
  completeProviderSignIn: () => ({ query: 'code=x&state=y' }),
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
  copyMachine: (o) => ({
    id: uuidv7(),
    siteId: o.siteId,
    name: `M ${uuidv7()}`,
    stations: [{ id: uuidv7(), likeStationId: o.stationId, name: 'S' }],
    fittedFrom: ago(1),
    reason: 'walk',
  }),
  createPowerUnit: (o) => ({ id: uuidv7(), machineId: o.machineId, name: `U ${uuidv7()}`, drive: 'air' }),
  updatePowerUnit: () => ({ note: 'walked' }),
  createCircuit: (o) => ({ id: uuidv7(), powerUnitId: o.powerUnitId, stationId: o.stationId, name: `C ${uuidv7()}` }),
  updateCircuit: () => ({ note: 'walked' }),
  copyCircuit: (o) => ({
    id: uuidv7(),
    powerUnitId: o.powerUnitId,
    stationId: o.stationId,
    name: `C ${uuidv7()}`,
    designations: [],
    fittedFrom: ago(1),
    reason: 'walk',
  }),
  copyComponentsOfCircuit: (o) => ({ id: uuidv7(), circuitId: o.circuitId, fittedFrom: ago(1), reason: 'walk' }),
  copyComponentsOfPowerUnit: (o) => ({ id: uuidv7(), powerUnitId: o.powerUnitId, fittedFrom: ago(1), reason: 'walk' }),
  copyControl: (o) => ({
    id: uuidv7(),
    machineId: o.machineId,
    stations: [{ stationId: o.stationId, likeStationId: o.stationId }],
  }),
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
  copyFixture: (o) => ({ id: uuidv7(), customerId: o.customerId, name: `F ${uuidv7()}`, operationsFrom: ago(1) }),
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
export const OWNERLESS = new Set([
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
  'listIdentityProviders',
  'createIdentityProvider',
  'createProviderSignIn',
  'createProviderAcceptance',
  'createProviderIdentity',
  'createProviderProof',
  'completeProviderSignIn',
  'listPasskeys',
  'createPasskeyOptions',
  'createPasskey',
  'deletePasskey',
  'createPasskeyChallenge',
  'createSessionByPasskey',
  'createProofByPasskey',
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
  'listApiKeys',
  'createApiKey',
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
