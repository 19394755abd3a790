import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let world: CircuitWorld;
const bar = (value: number) => ({ value, unit: 'bar' });

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Spine');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'A1');
});
afterAll(() => api.stop());

/** What is read when settings are left. */
const READ = ['setting', 'settingTolerance', 'setPoint', 'resetPoint', 'airPressure', 'pumpRestart', 'pumpRestartTolerance', 'clampTime', 'contactTime', 'timeTolerance', 'decay', 'decayDuration', 'oilTemperature', 'gaugeSpan', 'gaugeClass', 'reportName'] as const; // prettier-ignore

const standing = async () => {
  const { body } = await engineer.get('/circuits/standings').expect(200);
  return body.items.find((one: { circuitId: string }) => one.circuitId === world.circuitId);
};

describe('from facts to standing', () => {
  it('a power unit whose lowest air is above its highest is refused by the name of the field, new or changed', async () => {
    const path = `/power-units/${world.powerUnitId}`;
    const { body: before } = await engineer.get(path).expect(200);
    const high: number = before.plantAirHigh.value;
    const refused = await engineer.patch(path, before.version, { plantAirLow: bar(high + 0.1) }).expect(422);
    expect(refused.body.errors).toMatchObject([{ pointer: '/plantAirLow', field: 'plantAirLow', code: 'order' }]);
    const { machineId } = world;
    const body = { id: uuidv7(), machineId, name: 'Second', drive: 'air', plantAirLow: bar(7), plantAirHigh: bar(6) };
    expect((await engineer.post('/power-units', body).expect(422)).body.errors).toMatchObject([{ code: 'order' }]);
    await engineer.patch(path, before.version, { plantAirLow: bar(high) }).expect(200);
    const { body: after } = await engineer.get(path).expect(200);
    await engineer.patch(path, after.version, { plantAirLow: before.plantAirLow }).expect(200);
  });

  it('a circuit that is set right holds, on the fleet list and on its machine', async () => {
    expect(await standing()).toMatchObject({ status: 'holds', machineName: 'VMC-A1', openIssues: 0 });
    const { body } = await engineer.get(`/machines/${world.machineId}/overview`).expect(200);
    expect(body.status).toBe('holds');
    expect(body.circuits[0].ladder.checks.map((check: { status: string }) => check.status)).toEqual([
      ...Array<string>(8).fill('holds'),
      'not-applicable',
      'holds',
      'not-applicable',
      'holds',
      'holds',
    ]);
    expect(body.components).toHaveLength(8);
  });

  it('a sizing record goes stale in the same transaction as a change that it used, and says why', async () => {
    const id = uuidv7();
    const made = await engineer
      .post('/sizing-records', { id, circuitId: world.circuitId, basis: 'target' })
      .expect(201);
    expect(made.body).toMatchObject({ currency: 'current', status: 'holds', number: 1 });
    expect(made.body).not.toHaveProperty('standing');
    const { body: type } = await engineer.get(`/component-types/${world.hoseTypeId}`).expect(200);
    const figures = { ratedPressure: { value: 2500, unit: '[psi]', source: 'corrected data sheet' } };
    await engineer
      .patch(`/component-types/${world.hoseTypeId}`, type.version, { figures, reason: 'data sheet corrected' })
      .expect(200);
    const stale = await engineer.get(`/sizing-records/${id}`).expect(200);
    expect(stale.body.currency).toBe('stale');
    expect(stale.body.staleReasons).toMatchObject([{ entity: 'component-type', entityId: world.hoseTypeId }]);
    // 2500 psi are 172 bar: below 175 + 4.
    expect(await standing()).toMatchObject({ status: 'fails', checkCode: 'setting-within-rating' });
  });

  it('a record computed again gives the same bytes, and a new one supersedes it', async () => {
    const { body: list } = await engineer.get(`/sizing-records?circuitId=${world.circuitId}`).expect(200);
    const first = list.items[0].id;
    const replay = await engineer.post(`/sizing-records/${first}/replay`).expect(200);
    expect(replay.body).toMatchObject({ same: true, differences: [] });
    expect(replay.body.sha256).toBe(replay.body.recordedSha256);
    await engineer.post('/sizing-records', { id: uuidv7(), circuitId: world.circuitId }).expect(201);
    expect((await engineer.get(`/sizing-records/${first}`)).body.currency).toBe('superseded');
  });

  it('the rating as it was stays readable as a revision', async () => {
    const { body } = await engineer.get(`/component-types/${world.hoseTypeId}/revisions`).expect(200);
    expect(body.items.map((one: { revision: number }) => one.revision)).toEqual([2, 1]);
    expect(body.items[1].figures.ratedPressure).toMatchObject({ value: 275, unit: 'bar' });
    const { body: affected } = await engineer.get(`/component-types/${world.hoseTypeId}/circuits`).expect(200);
    expect(affected.items).toMatchObject([{ circuitId: world.circuitId, designation: 'H1.4' }]);
  });

  it('an exchange ends one component and begins another; any past day still shows the first', async () => {
    const typeId = uuidv7();
    const figure = (value: number, unit: string) => ({ value, unit, source: 'test data' });
    const figures = {
      ratedPressure: figure(300, 'bar'),
      innerDiameter: figure(6, 'mm'),
      length: figure(2, 'm'),
      expansionModulus: figure(1.4, 'GPa'),
    };
    await engineer.post('/component-types', { id: typeId, kind: 'hose', name: 'stronger hose', figures }).expect(201);
    await engineer
      .post('/installed-components', {
        id: uuidv7(),
        machineId: world.machineId,
        circuitId: world.circuitId,
        componentTypeId: typeId,
        designation: 'H1.4',
        lineFunctions: ['clamp'],
        lot: 'LOT-NEW',
        validFrom: ago(1),
        reason: 'rating too low',
        replacesId: world.hoseId,
      })
      .expect(201);
    // What was read before says nothing of what is fitted now.
    expect(await standing()).toMatchObject({ status: 'unproven' });
    const { body: lists } = await engineer.get(`/setup-records?circuitId=${world.circuitId}`).expect(200);
    const asRead = Object.fromEntries(READ.map((name) => [name, lists.items[0][name]]));
    await engineer
      .post('/setup-records', {
        ...{ ...asRead, id: uuidv7(), circuitId: world.circuitId, afterRevision: lists.items[0].revision },
        ...{ reason: 'read again with the new hose', measuredAt: ago(0.5), measuredByName: 'Test installer' },
      })
      .expect(201);
    expect(await standing()).toMatchObject({ status: 'holds' });
    const past = await engineer.get(`/machines/${world.machineId}/overview?asOn=${ago(20)}`).expect(200);
    const hose = past.body.components.find((one: { designation: string }) => one.designation === 'H1.4');
    expect(hose).toMatchObject({ id: world.hoseId, lot: 'LOT-A1' });
    const before = await engineer.get(`/machines/${world.machineId}/overview?asOn=${ago(200)}`).expect(200);
    expect(before.body.components).toEqual([]);
    expect(before.body.circuits[0]).toMatchObject({ target: null, asLeft: null, fixture: null });
    const { body: lot } = await engineer.get('/installed-components/by-lot?lot=LOT-A1').expect(200);
    expect(lot.items).toHaveLength(1);
    expect(lot.items[0].validTo).not.toBeNull();
  });

  it('a fixture rated below the unchanged setting fails the circuit and names the fixture', async () => {
    const fixtureId = uuidv7();
    await engineer
      .post('/fixtures', { id: fixtureId, customerId: world.customerId, name: 'F-weak', ratedPressure: bar(160) })
      .expect(201);
    await engineer
      .post('/fixture-fittings', {
        id: uuidv7(),
        fixtureId,
        stationId: world.stationId,
        validFrom: ago(0.5),
        reason: 'new part',
      })
      .expect(201);
    const now = await standing();
    expect(now).toMatchObject({ status: 'fails', fixtureName: 'F-weak' });
    const check = now.checks.find((one: { code: string }) => one.code === 'setting-within-rating');
    expect(check.subject).toMatchObject({ entity: 'fixture', name: 'F-weak' });
    expect(check.stated).toMatchObject({ demandPa: 179e5, capacityPa: 160e5 });
    const { body } = await engineer.get(`/machines/${world.machineId}/overview`).expect(200);
    expect(body.circuits[0].fixture).toMatchObject({ name: 'F-weak', previousName: 'F-A1' });
  });

  it('without an operation nothing is assumed: the check is unproven and says what is missing', async () => {
    const now = await standing();
    const check = now.checks.find((one: { code: string }) => one.code === 'holds-workpiece');
    expect(check.status).toBe('unproven');
    expect(check.missing).toEqual(expect.arrayContaining([expect.objectContaining({ field: 'operations' })]));
  });

  it('target and as-left settings are revisioned apart, and a revision on top of an unseen one is refused', async () => {
    const settings = {
      circuitId: world.circuitId,
      setting: bar(140),
      settingTolerance: bar(3),
      setPoint: bar(130),
      resetPoint: bar(122),
    };
    const body = { ...settings, afterRevision: 1, reason: 'for the weak fixture' };
    await engineer.post('/target-settings', { id: uuidv7(), ...body }).expect(201);
    const late = await engineer.post('/target-settings', { id: uuidv7(), ...body }).expect(409);
    expect(late.body).toMatchObject({ code: 'request.conflict', errors: [{ field: 'afterRevision' }] });
    const wrong = { ...settings, resetPoint: bar(131), afterRevision: 2, reason: 'x' };
    const refused = await engineer.post('/target-settings', { id: uuidv7(), ...wrong }).expect(422);
    expect(refused.body.errors[0]).toMatchObject({ field: 'resetPoint', code: 'order' });
    const { body: list } = await engineer.get(`/target-settings?circuitId=${world.circuitId}`).expect(200);
    expect(list.items.map((one: { revision: number }) => one.revision)).toEqual([2, 1]);
    // The fleet shows what was left at the machine, not what was released.
    expect(await standing()).toMatchObject({ settingsBasis: 'as-left' });
  });

  it('what was typed comes back as typed', async () => {
    const { body } = await engineer.get(`/component-types/${world.hoseTypeId}`).expect(200);
    expect(body.figures.ratedPressure).toEqual({ value: 2500, unit: '[psi]', source: 'corrected data sheet' });
  });

  it('the search finds a circuit by machine, customer, lot and fixture, by the beginning of each word', async () => {
    for (const words of ['vmc-a1', 'customer a1', 'lot-a1', 'f-we', 'braga']) {
      const { body } = await engineer.get(`/circuits/standings?search=${encodeURIComponent(words)}`).expect(200);
      expect(body.items.map((one: { circuitId: string }) => one.circuitId)).toEqual([world.circuitId]);
    }
    const { body } = await engineer.get('/circuits/standings?search=nowhere').expect(200);
    expect(body.items).toEqual([]);
  });
});
