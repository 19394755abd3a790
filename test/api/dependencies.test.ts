import { routes, type Circuit } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, aClamp, ago, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { ImportClient, jobEnd } from '../imports/support/import-client.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { ProofWatch } from '../support/proof-watch.js';
import { copyChanges } from '../builders/copy-changes.js';

const bar = (value: number) => ({ value, unit: 'bar' });
const figure = (value: number, unit: string) => ({ value, unit, source: 'data sheet' });

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let watch: ProofWatch;
let world: World;

/** Two machines that share a type of hose; the first has a second power unit, and a second circuit on its first. */
interface World {
  first: CircuitWorld;
  second: CircuitWorld;
  /** on the second power unit of the first machine */
  otherUnitId: string;
  otherUnitCircuitId: string;
  /** on the first power unit */
  neighbourId: string;
  valveTypeId: string;
  valveId: string;
}

async function aWorld(): Promise<World> {
  const [first, second] = [await aCircuit(engineer, 'D1'), await aCircuit(engineer, 'D2')];
  const [otherUnitId, otherUnitCircuitId, neighbourId] = [uuidv7(), uuidv7(), uuidv7()];
  const [valveTypeId, valveId] = [uuidv7(), uuidv7()];
  const { machineId, stationId, powerUnitId } = first;
  await made('/power-units', { id: otherUnitId, machineId, name: 'Power unit 2', drive: 'air' });
  await made('/circuits', { id: otherUnitCircuitId, powerUnitId: otherUnitId, stationId, name: 'Tailstock' });
  await made('/circuits', { id: neighbourId, powerUnitId, stationId, name: 'Steady' });
  const valve = {
    kind: 'directional-valve',
    name: 'valve of the second unit',
    figures: { coilPower: figure(18, 'W') },
  };
  await made('/component-types', { id: valveTypeId, ...valve });
  const at = { machineId, circuitId: otherUnitCircuitId, componentTypeId: valveTypeId };
  await made('/installed-components', { id: valveId, ...at, designation: 'V2', validFrom: ago(50) });
  await made('/installed-components', {
    ...{ id: uuidv7(), machineId: second.machineId, circuitId: second.circuitId, componentTypeId: first.hoseTypeId },
    ...{ designation: 'H77', lineFunctions: ['clamp'], validFrom: ago(50) },
  });
  return { first, second, otherUnitId, otherUnitCircuitId, neighbourId, valveTypeId, valveId };
}

async function made(path: string, body: Record<string, unknown> & { id: string }): Promise<string> {
  const answer = await engineer.post(path, body);
  if (answer.status !== 201) throw new Error(`${path}: ${answer.status} ${answer.text}`);
  return body.id;
}
async function changed(path: string, body: object): Promise<string> {
  const { version } = (await engineer.get(path).expect(200)).body as { version: number };
  const answer = await engineer.patch(path, version, body);
  if (answer.status !== 200) throw new Error(`${path}: ${answer.status} ${answer.text}`);
  // An operation of which the answer changes begins anew.
  return (answer.body as { id: string }).id;
}
const newestOf = async (path: string, circuitId: string): Promise<number> => {
  const { body } = await engineer.get(`${path}?circuitId=${circuitId}&limit=1`).expect(200);
  return (body as { items: { revision: number }[] }).items[0]?.revision ?? 0;
};

interface Change {
  /** makes it through the API; the id of the record that was written */
  make: () => Promise<string>;
}

/** changes by which some record would be made otherwise */
let borne = 0;
let fitted: string;
const { copyMachine, copyCircuit, copyFixture, ...ontoBareMachine } = copyChanges(() => ({
  ...{ engineer, watch, first: world.first, neighbourId: world.neighbourId },
}));
/** Every route that writes a fact of a circuit, with changes that bear on some circuits and not on others. */
const CHANGES: Record<string, Change[]> = {
  updateOrganisation: [
    {
      make: () =>
        changed('/organisation', {
          marginsAsked: {
            ...{ 'holds-workpiece': 0.2, 'no-nuisance-stop': 0.02, 'setting-within-rating': 0.03 },
            ...{ 'highest-within-rating': 0, 'workpiece-limit': 0.02 },
          },
        }),
    },
  ],
  createCustomer: [{ make: () => made('/customers', { id: uuidv7(), name: 'Another' }) }],
  updateCustomer: [{ make: () => changed(`/customers/${world.first.customerId}`, { name: 'Renamed customer' }) }],
  createSite: [
    {
      make: () =>
        made('/sites', {
          ...{ id: uuidv7(), customerId: world.first.customerId, name: 'Hall 9' },
          ...{ place: 'Braga', timeZone: 'Europe/Lisbon' },
        }),
    },
  ],
  updateSite: [{ make: () => changed(`/sites/${world.first.siteId}`, { place: 'Porto' }) }],
  createMachine: [
    {
      make: () =>
        made('/machines', {
          ...{ id: uuidv7(), siteId: world.first.siteId, name: 'New machine', form: 'single-station', wayIn: 'direct' },
          stations: [{ id: uuidv7(), name: 'S' }],
        }),
    },
  ],
  updateMachine: [
    { make: () => changed(`/machines/${world.first.machineId}`, { controlReaction: { value: 1.4, unit: 's' } }) },
    { make: () => changed(`/machines/${world.first.machineId}`, { supplyRatingW: 90 }) },
    { make: () => changed(`/machines/${world.first.machineId}`, { kitList: 'unseen' }) },
    { make: () => changed(`/machines/${world.second.machineId}`, { disposition: 'decommissioned' }) },
    { make: () => changed(`/machines/${world.second.machineId}`, { disposition: 'in-service' }) },
  ],
  copyMachine,
  copyCircuit,
  copyFixture,
  createPowerUnit: [
    {
      make: () =>
        made('/power-units', { id: uuidv7(), machineId: world.first.machineId, name: 'Power unit 3', drive: 'air' }),
    },
  ],
  updatePowerUnit: [
    { make: () => changed(`/power-units/${world.first.powerUnitId}`, { plantAirLow: bar(5.1) }) },
    { make: () => changed(`/power-units/${world.otherUnitId}`, { plantAirLow: bar(5.3) }) },
  ],
  createCircuit: [
    {
      make: () =>
        made('/circuits', {
          ...{ id: uuidv7(), powerUnitId: world.first.powerUnitId, stationId: world.first.stationId },
          name: 'Third part',
        }),
    },
  ],
  updateCircuit: [
    { make: () => changed(`/circuits/${world.first.circuitId}`, { returnPressure: bar(2.5) }) },
    { make: () => changed(`/circuits/${world.neighbourId}`, { name: 'Steady rest' }) },
    { make: () => changed(`/circuits/${world.neighbourId}`, { archived: true }) },
    { make: () => changed(`/circuits/${world.neighbourId}`, { archived: false }) },
  ],
  createComponentType: [{ make: () => made('/component-types', { id: uuidv7(), kind: 'hose', name: 'Unused' }) }],
  updateComponentType: [
    {
      make: () =>
        changed(`/component-types/${world.first.hoseTypeId}`, {
          figures: { ratedPressure: figure(240, 'bar'), length: figure(2, 'm'), innerDiameter: figure(6, 'mm') },
          reason: 'data sheet',
        }),
    },
    {
      make: () =>
        changed(`/component-types/${world.first.hoseTypeId}`, { note: 'ask for the new sheet', reason: 'note' }),
    },
    {
      make: () =>
        changed(`/component-types/${world.first.hoseTypeId}`, { name: 'Hose of another name', reason: 'renamed' }),
    },
    // The valve of the second power unit draws on the supply of the whole machine.
    {
      make: () =>
        changed(`/component-types/${world.valveTypeId}`, {
          figures: { coilPower: figure(400, 'W') },
          reason: 'data sheet',
        }),
    },
  ],
  installComponent: [
    {
      make: () =>
        made('/installed-components', {
          ...{ id: uuidv7(), machineId: world.first.machineId, circuitId: world.first.circuitId },
          ...{ componentTypeId: world.first.hoseTypeId, designation: 'H20', lineFunctions: ['clamp'] },
          validFrom: ago(1),
        }),
    },
    {
      make: () =>
        made('/installed-components', {
          ...{ id: uuidv7(), machineId: world.first.machineId, powerUnitId: world.first.powerUnitId, circuitId: null },
          ...{ componentTypeId: world.first.hoseTypeId, designation: 'H21', lineFunctions: ['supply'] },
          validFrom: ago(1),
        }),
    },
    // In place of a valve that sat in another circuit of the machine.
    {
      make: () =>
        made('/installed-components', {
          ...{ id: uuidv7(), machineId: world.first.machineId, circuitId: world.neighbourId },
          ...{ componentTypeId: world.valveTypeId, designation: 'V3', replacesId: world.valveId, validFrom: ago(1) },
        }),
    },
  ],
  removeComponent: [
    {
      make: async () => {
        const { body } = await engineer.get(`/installed-components/${world.first.hoseId}`).expect(200);
        const headers = { 'if-match': `"v${(body as { version: number }).version}"`, 'idempotency-key': '"remove"' };
        const removal = { validTo: ago(0), reason: 'leaked' };
        const path = `/installed-components/${world.first.hoseId}/removal`;
        const answer = await engineer.call('POST', path, headers, removal);
        if (answer.status !== 200) throw new Error(answer.text);
        return world.first.hoseId;
      },
    },
  ],
  createMCode: [
    {
      make: () =>
        made('/m-codes', {
          ...{ id: uuidv7(), machineId: world.first.machineId, stationId: world.first.stationId, code: 'M80' },
          action: 'other',
        }),
    },
  ],
  updateMCode: [{ make: () => changed(`/m-codes/${world.first.mCodeId}`, { waitsForAnswer: false }) }],
  createSignal: [
    {
      make: () =>
        made('/signals', {
          ...{ id: uuidv7(), machineId: world.first.machineId, circuitId: world.otherUnitCircuitId },
          ...{ direction: 'input', name: 'B9' },
        }),
    },
  ],
  updateSignal: [{ make: () => changed(`/signals/${world.first.signalId}`, { suppressionVoltageV: 47 }) }],
  createWire: [
    {
      make: () =>
        made('/wires', {
          id: uuidv7(),
          signalId: world.first.signalId,
          number: '99',
          fromTerminal: 'A',
          toTerminal: 'B',
        }),
    },
  ],
  updateWire: [
    { make: () => changed(`/wires/${world.first.wireId}`, { length: { value: 30, unit: 'm' } }) },
    { make: () => changed(`/wires/${world.first.wireId}`, { colour: 'brown' }) },
  ],
  createFixture: [
    {
      make: async () =>
        (fitted = await made('/fixtures', { id: uuidv7(), customerId: world.first.customerId, name: 'F-new' })),
    },
  ],
  updateFixture: [
    {
      make: () =>
        changed(`/fixtures/${world.first.fixtureId}`, { elements: [{ ...aClamp(), ratedPressure: bar(190) }] }),
    },
    { make: () => changed(`/fixtures/${fitted}`, { ratedPressure: bar(150) }) },
  ],
  createOperation: [
    {
      make: () =>
        made('/operations', {
          ...{ id: uuidv7(), fixtureId: world.first.fixtureId, number: 90, name: 'Drill', validFrom: ago(1) },
          requiredPressure: bar(130),
        }),
    },
  ],
  updateOperation: [{ make: () => changed(`/operations/${world.first.operationId}`, { requiredPressure: bar(121) }) }],
  fitFixture: [
    {
      make: () =>
        made('/fixture-fittings', {
          ...{ id: uuidv7(), fixtureId: fitted, stationId: world.first.stationId, validFrom: ago(0) },
        }),
    },
  ],
  releaseTargetSetting: [
    {
      make: async () =>
        made('/target-settings', {
          ...{ id: uuidv7(), circuitId: world.first.circuitId, setting: bar(172), reason: 'softer' },
          afterRevision: await newestOf('/target-settings', world.first.circuitId),
        }),
    },
    // Of a circuit at which nothing was ever read: its standing falls back to the target.
    {
      make: async () =>
        made('/target-settings', {
          ...{ id: uuidv7(), circuitId: world.neighbourId, setting: bar(140), reason: 'first' },
          afterRevision: await newestOf('/target-settings', world.neighbourId),
        }),
    },
  ],
  createSetupRecord: [
    {
      make: async () =>
        made('/setup-records', {
          ...{ id: uuidv7(), circuitId: world.first.circuitId, setting: bar(171), reportName: 'R', reason: 'visit' },
          ...{ measuredAt: ago(1), measuredByName: 'W', gaugeSpan: bar(250), gaugeClass: '1.6' },
          afterRevision: await newestOf('/setup-records', world.first.circuitId),
        }),
    },
  ],
};
let importId: string;
Object.assign(CHANGES, {
  commitImport: [
    {
      make: async () => {
        const { body } = await engineer.get(`/circuits/${world.second.circuitId}`).expect(200);
        const upload = await ImportClient.begin(engineer, 'settings.csv');
        importId = upload.id;
        await upload.send(
          Buffer.from(
            [
              'Customer,Site,Machine,Circuit,Power unit,Plant air lowest,Can trap',
              `Customer D2,Works,VMC-D2,${(body as Circuit).name},Power unit 1,5.0 bar,yes`,
            ].join('\n'),
          ),
        );
        await upload.check();
        const job = await upload.commit();
        expect(job).toMatchObject({ state: 'finished' });
        return world.second.circuitId;
      },
    },
  ],
  undoImport: [
    {
      make: async () => {
        const answer = await engineer.post(`/imports/${importId}/undo`).expect(202);
        expect(await jobEnd(engineer, (answer.body as { id: string }).id)).toMatchObject({ state: 'finished' });
        return world.second.circuitId;
      },
    },
  ],
} satisfies Record<string, Change[]>);
// Last: another machine is there from then on.
Object.assign(CHANGES, ontoBareMachine);

/** Areas whose records no proof looks up: people, keys, issues, visits, counts and where they come from, jobs, files. */
const WITHOUT_FACTS = new Set([
  ...['users', 'memberships', 'api-keys', 'identity-providers', 'issues', 'visits', 'sources', 'alarm-counts', 'jobs'],
  ...['exports', 'sizing', 'calculations'],
]);
/** Routes of the other areas that write no facts, each with what they write. */
const OTHER_ROUTES: Record<string, string> = {
  updateSignInPolicy: 'what signing in asks for',
  createImport: 'an empty import',
  updateImport: 'how a file is read',
  uploadImportFile: 'the file',
  checkImport: 'a trial run',
  cancelImport: 'the end of an import',
};

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside', STANDINGS_LOOK_MS: '600000' });
  organisation = await anOrganisation(api, 'Dependencies');
  engineer = await api.as(organisation.emails.engineer);
  world = await aWorld();
  watch = await ProofWatch.begin(api, organisation);
});
afterAll(async () => {
  await watch.stop();
  await api.stop();
});

describe('what a circuit stands on', () => {
  it('is walked by every route that changes something', () => {
    const changing = Object.values(routes)
      .flatMap((group) => Object.values(group) as { id: string; method: string; area: string }[])
      .filter(({ method, area }) => method !== 'GET' && !WITHOUT_FACTS.has(area))
      .map(({ id }) => id)
      .filter((id) => !(id in OTHER_ROUTES));
    expect(Object.keys(CHANGES).sort()).toEqual(changing.sort());
  });

  it.each(
    Object.entries(CHANGES).flatMap(([route, changes]) => changes.map((change, nth) => [route, nth, change] as const)),
  )(
    'after %s (%i) every standing is the one computed now, and just the records that it bears on are stale',
    async (_route, _nth, { make }) => {
      await watch.makeRecords();
      const id = await make();
      const records = await watch.records();
      const { kept, computed } = await watch.keptAndComputed();
      expect(kept).toEqual(computed);
      if (records.some(({ isOther }) => isOther)) borne += 1;
      for (const { row, isStale, isOther } of records) {
        expect({ ...row, canonical_text: '', isStale }).toMatchObject({ isStale: isOther });
        if (isOther) expect(row.reasons.map(({ entityId }) => entityId)).toContain(id);
      }
    },
  );

  it('is computed with all of what several people change at once, new circuits too', async () => {
    // Without sizing records, which changes of the same circuit would wait for each other at.
    const second = await aCircuit(engineer, 'D3');
    for (let round = 0; round < 8; round += 1) {
      await Promise.all([
        changed(`/power-units/${second.powerUnitId}`, { plantAirLow: bar(5 + round / 100) }),
        changed(`/machines/${second.machineId}`, { supplyRatingW: 70 + round }),
        changed(`/circuits/${second.circuitId}`, { returnPressure: bar(2 + round / 10) }),
        changed(`/wires/${second.wireId}`, { length: { value: 10 + round, unit: 'm' } }),
        changed(`/fixtures/${second.fixtureId}`, { ratedPressure: bar(200 + round) }),
        changed(`/component-types/${second.hoseTypeId}`, {
          figures: { ratedPressure: figure(240 + round, 'bar') },
          reason: 'at once',
        }),
        made('/circuits', {
          ...{ id: uuidv7(), powerUnitId: second.powerUnitId, stationId: second.stationId },
          name: `Part ${round}`,
        }),
      ]);
      const { kept, computed } = await watch.keptAndComputed();
      expect(kept).toEqual(computed);
    }
  });

  it('was tried by changes that bear on something', () => {
    expect(borne).toBeGreaterThan(25);
  });
});
