import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let like: CircuitWorld;
/** A machine with a power unit and a circuit, at which nothing is fitted or wired. */
let bare: Bare;

interface Bare {
  machineId: string;
  stationIds: string[];
  powerUnitId: string;
  circuitId: string;
}
type Row = Record<string, unknown> & { id: string };
const get = async (path: string) => (await engineer.get(path).expect(200)).body;
const listOf = async (path: string): Promise<Row[]> => (await get(path)).items;

async function aBareMachine(name: string): Promise<Bare> {
  const [machineId, powerUnitId, circuitId] = [uuidv7(), uuidv7(), uuidv7()];
  const stationIds = [uuidv7(), uuidv7()];
  const stations = stationIds.map((id, nth) => ({ id, name: `Pallet ${nth + 1}` }));
  const machine = { id: machineId, siteId: like.siteId, name, form: 'pallets', wayIn: 'direct', stations };
  await engineer.post('/machines', machine).expect(201);
  await engineer.post('/power-units', { id: powerUnitId, machineId, name: 'Unit', drive: 'air' }).expect(201);
  const circuit = { id: circuitId, powerUnitId, stationId: stationIds[0], name: 'Clamping' };
  await engineer.post('/circuits', circuit).expect(201);
  return { machineId, stationIds, powerUnitId, circuitId };
}
const circumstances = () => ({ fittedFrom: ago(1), reason: 'as on the first machine' });
const copied = ['componentTypeId', 'designation', 'lineFunctions', 'figures', 'sensing', 'isBeyondShutOff'];
const asFitted = (rows: Row[]): string[] => rows.map((row) => JSON.stringify(copied.map((field) => row[field]))).sort();

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Copies onto');
  engineer = await api.as(organisation.emails.engineer);
  like = await aCircuit(engineer, 'O');
  bare = await aBareMachine('Bare');
});
afterAll(() => api.stop());

describe('a component set', () => {
  it('of a circuit is fitted in another one: the same types and figures, nobody else’s serials', async () => {
    const serialised = { machineId: like.machineId, circuitId: like.circuitId, componentTypeId: like.hoseTypeId };
    const itsOwn = { serial: 'H-4711', lot: 'L 12', madeOn: '2026-01-12', designation: 'H9', validFrom: ago(50) };
    await engineer.post('/installed-components', { id: uuidv7(), ...serialised, ...itsOwn }).expect(201);
    const body = { id: uuidv7(), circuitId: bare.circuitId, ...circumstances() };
    const { body: answer } = await engineer.post(`/circuits/${like.circuitId}/component-copies`, body).expect(201);
    const [there, here] = [
      await listOf(`/installed-components?circuitId=${like.circuitId}`),
      await listOf(`/installed-components?circuitId=${bare.circuitId}`),
    ];
    expect(there.length).toBeGreaterThan(3);
    expect(asFitted(here)).toEqual(asFitted(there));
    expect(asFitted(answer.items)).toEqual(asFitted(there));
    for (const component of here) {
      expect(component).toMatchObject({ machineId: bare.machineId, serial: '', lot: '', madeOn: null });
      expect(component).toMatchObject({ validFrom: body.fittedFrom, reason: 'as on the first machine' });
    }
    // Fitted once: their designations are taken now, whoever asks again under another name.
    await engineer.post(`/circuits/${like.circuitId}/component-copies`, { ...body, id: uuidv7() }).expect(409);
  });

  it('of a power unit is fitted at another one, under the designations that are asked for', async () => {
    const there = (await listOf(`/installed-components?machineId=${like.machineId}`)).filter(
      ({ powerUnitId }) => powerUnitId === like.powerUnitId,
    );
    expect(there.length).toBeGreaterThan(0);
    const designations = there.map(({ id, designation }) => ({
      likeComponentId: id,
      designation: `${String(designation)}-B`,
    }));
    const body = { id: uuidv7(), powerUnitId: bare.powerUnitId, designations, ...circumstances() };
    await engineer.post(`/power-units/${like.powerUnitId}/component-copies`, body).expect(201);
    const here = (await listOf(`/installed-components?machineId=${bare.machineId}`)).filter(
      ({ powerUnitId }) => powerUnitId === bare.powerUnitId,
    );
    expect(here.map(({ designation }) => designation).sort()).toEqual(
      designations.map(({ designation }) => designation).sort(),
    );
    expect(here.map(({ componentTypeId }) => componentTypeId).sort()).toEqual(
      there.map(({ componentTypeId }) => componentTypeId).sort(),
    );
  });

  it('leaves out what was taken out of the original, and is refused without a reason', async () => {
    const [first] = await listOf(`/installed-components?circuitId=${like.circuitId}&asOn=${ago(0)}`);
    const removal = { validTo: ago(0), reason: 'worn' };
    await engineer.call('POST', `/installed-components/${first?.id}/removal`, { 'if-match': '"v1"' }, removal);
    const another = await aBareMachine('Another');
    const body = { id: uuidv7(), circuitId: another.circuitId, ...circumstances() };
    await engineer.post(`/circuits/${like.circuitId}/component-copies`, { ...body, reason: '' }).expect(422);
    await engineer.post(`/circuits/${like.circuitId}/component-copies`, body).expect(201);
    const here = await listOf(`/installed-components?circuitId=${another.circuitId}`);
    const there = await listOf(`/installed-components?circuitId=${like.circuitId}`);
    expect(here.length).toBe(there.length - 1);
    expect(here.map(({ designation }) => designation)).not.toContain(first?.designation);
  });
});

describe('a control', () => {
  const stationsOf = (machine: Bare) => [{ stationId: machine.stationIds[0], likeStationId: like.stationId }];

  it('is taken over: codes, signals and wires name what stands for their own on the other machine', async () => {
    const body = { id: uuidv7(), machineId: bare.machineId, stations: stationsOf(bare) };
    await engineer.post(`/machines/${like.machineId}/control-copies`, body).expect(201);
    const both = async (noun: string): Promise<[Row[], Row[]]> => [
      await listOf(`/${noun}?machineId=${like.machineId}`),
      await listOf(`/${noun}?machineId=${bare.machineId}`),
    ];
    const [likeCodes, codes] = await both('m-codes');
    expect(codes.map(({ code }) => code).sort()).toEqual(likeCodes.map(({ code }) => code).sort());
    for (const { stationId } of codes) expect([null, bare.stationIds[0]]).toContain(stationId);
    const [likeSignals, signals] = await both('signals');
    expect(signals.map(({ name }) => name).sort()).toEqual(likeSignals.map(({ name }) => name).sort());
    const components = await listOf(`/installed-components?machineId=${bare.machineId}`);
    for (const signal of signals) {
      const original = likeSignals.find(({ name }) => name === signal.name);
      expect(signal).toMatchObject({ isPolarityRight: null, circuitId: bare.circuitId });
      expect(signal.mCodeId === null).toBe(original?.mCodeId === null);
      if (original?.componentId === null) continue;
      const { designation } = await get(`/installed-components/${String(original?.componentId)}`);
      expect(components.find(({ id }) => id === signal.componentId)).toMatchObject({ designation });
    }
    const [likeWires, wires] = await both('wires');
    expect(wires.map(({ number }) => number).sort()).toEqual(likeWires.map(({ number }) => number).sort());
    expect(likeWires.length).toBeGreaterThan(0);
    const [copy, original] = [await get(`/machines/${bare.machineId}`), await get(`/machines/${like.machineId}`)];
    expect(copy.controlBehaviour).toEqual(original.controlBehaviour);
    expect(Object.values(copy.controlBehaviour).some((answer) => answer !== null)).toBe(true);
  });

  it('is refused where a control is recorded already; what is said of a bare one stays', async () => {
    const body = { id: uuidv7(), machineId: bare.machineId, stations: stationsOf(bare) };
    await engineer.post(`/machines/${like.machineId}/control-copies`, body).expect(409);
    const another = await aBareMachine('With behaviour');
    const { version } = await get(`/machines/${another.machineId}`);
    const controlBehaviour = { onReset: 'unclamp' };
    await engineer.patch(`/machines/${another.machineId}`, version, { controlBehaviour }).expect(200);
    const onto = { id: uuidv7(), machineId: another.machineId, stations: stationsOf(another) };
    await engineer.post(`/machines/${like.machineId}/control-copies`, onto).expect(201);
    const original = await get(`/machines/${like.machineId}`);
    expect(original.controlBehaviour.onReset).not.toBe('unclamp');
    expect((await get(`/machines/${another.machineId}`)).controlBehaviour).toEqual({
      ...original.controlBehaviour,
      onReset: 'unclamp',
    });
    // No valve or switch is fitted there: the signals name none.
    for (const signal of await listOf(`/signals?machineId=${another.machineId}`)) {
      expect(signal.componentId).toBeNull();
    }
  });

  it('names stations of either machine, each once; the field that is wrong is named', async () => {
    const another = await aBareMachine('Of wrong stations');
    const path = `/machines/${like.machineId}/control-copies`;
    const refuse = async (stations: object[]): Promise<unknown> => {
      const body = { id: uuidv7(), machineId: another.machineId, stations };
      return (await engineer.post(path, body).expect(422)).body.errors;
    };
    const [right] = stationsOf(another);
    expect(await refuse([{ ...right, stationId: bare.stationIds[0] }])).toMatchObject([
      { field: 'stations.0.stationId' },
    ]);
    expect(await refuse([right ?? {}, { ...right, stationId: another.stationIds[1] }])).toMatchObject([
      { field: 'stations.1.likeStationId' },
    ]);
    const installer = await api.as(organisation.emails.installer);
    await installer.post(path, { id: uuidv7(), machineId: another.machineId, stations: [right] }).expect(403);
  });
});
