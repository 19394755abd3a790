import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, asSuperuser, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let like: CircuitWorld;
const machineId = uuidv7();

type Row = Record<string, unknown> & { id: string };
const get = async (path: string) => (await engineer.get(path).expect(200)).body;
const listOf = async (path: string): Promise<Row[]> => (await get(path)).items;
const copyBody = (changes: object = {}) => ({
  id: uuidv7(),
  siteId: like.siteId,
  name: 'VMC-second',
  serial: 'S-2',
  stations: [{ id: uuidv7(), likeStationId: like.stationId, name: 'Pallet B' }],
  fittedFrom: ago(1),
  reason: 'Like VMC-O; not measured on this machine yet',
  ...changes,
});
/** Without what tells a copy from its original. */
const plain = (rows: Row[], ...besides: string[]) => {
  const differing = new Set([
    ...['id', 'machineId', 'createdAt', 'recordedAt', 'version', 'circuitId', 'powerUnitId', 'validFrom', 'reason'],
    ...besides,
  ]);
  return rows
    .map((row) => JSON.stringify(Object.fromEntries(Object.entries(row).filter(([field]) => !differing.has(field)))))
    .sort();
};

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Copies');
  engineer = await api.as(organisation.emails.engineer);
  like = await aCircuit(engineer, 'O');
  const serialised = { machineId: like.machineId, circuitId: like.circuitId, componentTypeId: like.hoseTypeId };
  const itsOwn = { serial: 'H-4711', lot: 'L 12', madeOn: '2026-01-12', lineFunctions: ['clamp'] };
  const hose = { id: uuidv7(), ...serialised, ...itsOwn, designation: 'H9', validFrom: ago(50) };
  await engineer.post('/installed-components', hose).expect(201);
  await engineer.post('/issues', { id: uuidv7(), machineId: like.machineId, title: 'Leaks' }).expect(201);
  const { version } = await get(`/machines/${like.machineId}`);
  const papers = { warrantyUntil: '2027-01-01', kitList: 'Kit 7', quoteReference: 'Q 1', madeYear: 2019, axes: '4' };
  await engineer.patch(`/machines/${like.machineId}`, version, papers).expect(200);
  await engineer.post(`/machines/${like.machineId}/copies`, copyBody({ id: machineId })).expect(201);
});
afterAll(() => api.stop());

describe('a machine that is copied', () => {
  it('differs by what was asked; its papers and what was measured at it stay with the original', async () => {
    const [copy, original] = [await get(`/machines/${machineId}`), await get(`/machines/${like.machineId}`)];
    expect(copy).toMatchObject({ name: 'VMC-second', serial: 'S-2', axes: '4', siteId: like.siteId });
    expect(copy.stations).toMatchObject([{ name: 'Pallet B' }]);
    expect(copy).toMatchObject({ warrantyUntil: null, kitList: '', quoteReference: '', madeYear: null });
    expect([copy.controlVoltageV, original.controlVoltageV]).toEqual([null, 24]);
    expect(copy.controlBehaviour).toEqual(original.controlBehaviour);
    expect(copy.controlReaction).toEqual(original.controlReaction);
  });

  it('has the power units, circuits, components, codes, signals and wires of the original, as they were entered', async () => {
    const both = async (path: string, ...besides: string[]) => {
      const [copied, there] = [
        await listOf(`${path}?machineId=${machineId}`),
        await listOf(`${path}?machineId=${like.machineId}`),
      ];
      expect(there.length).toBeGreaterThan(0);
      expect(plain(copied, ...besides)).toEqual(plain(there, ...besides));
      for (const row of copied) expect(there.map(({ id }) => id)).not.toContain(row.id);
    };
    await both('/power-units');
    await both('/circuits', 'stationId', 'stationName', 'name');
    await both('/installed-components', 'serial', 'lot', 'madeOn');
    await both('/m-codes', 'stationId');
    await both('/signals', 'mCodeId', 'isPolarityRight', 'componentId');
    await both('/wires', 'signalId');
    // The circuit was called after its station.
    expect(await listOf(`/circuits?machineId=${machineId}`)).toMatchObject([{ name: 'Pallet B' }]);
  });

  it('takes no serial, lot, date, polarity, reading or issue', async () => {
    for (const component of await listOf(`/installed-components?machineId=${machineId}`)) {
      expect(component).toMatchObject({ serial: '', lot: '', madeOn: null });
    }
    for (const signal of await listOf(`/signals?machineId=${machineId}`)) expect(signal.isPolarityRight).toBeNull();
    const [circuit] = await listOf(`/circuits?machineId=${machineId}`);
    expect(await listOf(`/setup-records?circuitId=${circuit?.id}`)).toEqual([]);
    expect(await listOf(`/sizing-records?circuitId=${circuit?.id}`)).toEqual([]);
    expect((await get(`/machines/${machineId}/overview`)).openIssues).toBe(0);
  });

  it('has its target released with the reason, and reads no better than it is: it was not measured', async () => {
    const [circuit] = await listOf(`/circuits?machineId=${machineId}`);
    const [target] = await listOf(`/target-settings?circuitId=${circuit?.id}`);
    expect(target).toMatchObject({ revision: 1, reason: 'Like VMC-O; not measured on this machine yet' });
    expect(target).toMatchObject({ setting: { value: 175, unit: 'bar' }, releasedByName: 'Test engineer' });
    const overview = await get(`/machines/${machineId}/overview`);
    expect(overview.circuits).toMatchObject([{ asLeft: null, fixture: null }]);
    expect(overview.status).not.toBe('holds');
    const original = await get(`/machines/${like.machineId}/overview`);
    const statusOf = ({ circuits }: typeof overview, code: string) =>
      circuits[0].ladder.checks.find((check: { code: string }) => check.code === code).status;
    expect(statusOf(original, 'control-wiring')).toBe('holds');
    expect(statusOf(overview, 'control-wiring')).toBe('unproven');
  });

  it('is there once, however often it is asked for, and each of its records has an audit entry', async () => {
    const again = await engineer.post(`/machines/${like.machineId}/copies`, copyBody({ id: machineId, name: 'Else' }));
    expect(again.status).toBe(409);
    expect((await listOf(`/circuits?machineId=${machineId}`)).length).toBe(1);
    const { rows } = await asSuperuser(api, (client) =>
      client.query<{ entity: string; n: number }>(
        `SELECT entity, count(*)::int AS n FROM audit_entries WHERE organisation_id = $1 AND request_id = (
           SELECT request_id FROM audit_entries WHERE organisation_id = $1 AND entity_id = $2 AND action = 'create')
         GROUP BY entity ORDER BY entity`,
        [organisation.id, machineId],
      ),
    );
    const components = (await listOf(`/installed-components?machineId=${machineId}`)).length;
    expect(Object.fromEntries(rows.map(({ entity, n }) => [entity, n]))).toEqual({
      ...{ machine: 1, 'power-unit': 1, circuit: 1, 'installed-component': components, 'target-setting': 1 },
      ...{ 'm-code': 2, signal: 3, wire: 3 },
    });
  });

  it('at another site has that hall’s air still to be said', async () => {
    const siteId = uuidv7();
    const site = { id: siteId, customerId: like.customerId, name: 'Hall 2', place: 'Porto', timeZone: 'Europe/Lisbon' };
    await engineer.post('/sites', site).expect(201);
    const body = copyBody({ siteId });
    await engineer.post(`/machines/${like.machineId}/copies`, body).expect(201);
    const [unit] = await listOf(`/power-units?machineId=${body.id}`);
    expect(unit).toMatchObject({ plantAirLow: null, plantAirHigh: null, coldOilTemperature: null });
    expect(unit).toMatchObject({ oilDensity: { value: 870, unit: 'kg/m3' } });
  });

  it('names only stations of the original, each once; the field that is wrong is named', async () => {
    const twice = [0, 1].map((nth) => ({ id: uuidv7(), likeStationId: like.stationId, name: `P${nth}` }));
    const refused = await engineer
      .post(`/machines/${like.machineId}/copies`, copyBody({ stations: twice }))
      .expect(422);
    expect(refused.body.errors).toMatchObject([{ field: 'stations.1.likeStationId' }]);
    await engineer.post(`/machines/${like.machineId}/copies`, copyBody({ reason: '' })).expect(422);
    const lead = await api.as(organisation.emails.lead);
    await lead.post(`/machines/${like.machineId}/copies`, copyBody({ name: 'By a lead' })).expect(403);
  });
});

describe('a circuit and a fixture that are copied', () => {
  it('a circuit takes its components and target to another place', async () => {
    const id = uuidv7();
    const fitted = await listOf(`/installed-components?circuitId=${like.circuitId}`);
    const designations = fitted.map(({ id: likeComponentId, designation }) => ({
      likeComponentId,
      designation: `${designation}-2`,
    }));
    const place = { powerUnitId: like.powerUnitId, stationId: like.stationId, name: 'Second' };
    const body = { id, ...place, fittedFrom: ago(1), reason: 'a second like circuit' };
    // On one machine no two components bear the same designation.
    await engineer.post(`/circuits/${like.circuitId}/copies`, body).expect(409);
    await engineer.post(`/circuits/${like.circuitId}/copies`, { ...body, designations }).expect(201);
    const copied = await listOf(`/installed-components?circuitId=${id}`);
    const differing = ['designation', 'serial', 'lot', 'madeOn'];
    expect(plain(copied, ...differing)).toEqual(plain(fitted, ...differing));
    expect(copied.map(({ designation }) => designation).sort()).toEqual(
      designations.map((one) => one.designation).sort(),
    );
    expect(await listOf(`/target-settings?circuitId=${id}`)).toMatchObject([{ reason: 'a second like circuit' }]);
    expect(await listOf(`/setup-records?circuitId=${id}`)).toEqual([]);
  });

  it('a fixture takes its elements and today’s operations, and is fitted nowhere', async () => {
    const [id, operationsFrom] = [uuidv7(), ago(1)];
    const body = { id, customerId: like.customerId, name: 'F-second', operationsFrom };
    const { body: copy } = await engineer.post(`/fixtures/${like.fixtureId}/copies`, body).expect(201);
    const original = await get(`/fixtures/${like.fixtureId}`);
    expect(plain(copy.elements)).toEqual(plain(original.elements));
    expect(copy.elements[0].id).not.toBe(original.elements[0].id);
    expect(await listOf(`/operations?fixtureId=${id}`)).toMatchObject([
      { number: 10, requiredPressure: { value: 118, unit: 'bar' }, notLimitingBy: 'Test engineer' },
    ]);
    expect(await listOf(`/fixture-fittings?fixtureId=${id}`)).toEqual([]);
  });
});
