import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, type CircuitWorld, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let organisation: Organisation;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi();
  organisation = await anOrganisation(api, 'Control');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'C1');
});
afterAll(() => api.stop());

const checkOf = async (code: string) => {
  const { body } = await engineer.get(`/circuits/${world.circuitId}/pressure-ladder?basis=as-left`).expect(200);
  return body.ladder.checks.find((one: { code: string }) => one.code === code);
};
const change = async (path: string, body: object) => {
  const { body: before } = await engineer.get(path).expect(200);
  return (await engineer.patch(path, before.version, body).expect(200)).body;
};
const interlock = async () => (await engineer.get(`/machines/${world.machineId}/interlock`).expect(200)).body;
/** Says what the control does, all else sound. */
const behave = async (behaviour: object) => {
  const { body } = await engineer.get(`/machines/${world.machineId}`).expect(200);
  await change(`/machines/${world.machineId}`, { controlBehaviour: { ...body.controlBehaviour, ...behaviour } });
};

describe('signals, M-codes and wires', () => {
  it('what is entered comes back as it was entered, by machine', async () => {
    for (const [path, name, count] of [
      ['/m-codes', 'code', 2],
      ['/signals', 'name', 3],
      ['/wires', 'number', 3],
    ] as const) {
      const { body } = await engineer.get(`${path}?machineId=${world.machineId}`).expect(200);
      expect(body.items).toHaveLength(count);
      expect(body.items[0][name]).toMatch(/^(M21|Y1|10)$/);
      const first = await engineer.get(`${path}?machineId=${world.machineId}&limit=1`).expect(200);
      expect(first.body.items).toHaveLength(1);
      expect(first.body.nextCursor).not.toBeNull();
    }
    const { body: wire } = await engineer.get(`/wires/${world.wireId}`).expect(200);
    expect(wire).toMatchObject({
      crossSection: { value: 0.75, unit: 'mm2' },
      protectionA: 4,
      signalId: world.signalId,
    });
  });

  it('two people saving one record: the second is told, and nothing is lost', async () => {
    const { body } = await engineer.get(`/signals/${world.signalId}`).expect(200);
    await engineer.patch(`/signals/${world.signalId}`, body.version, { note: 'first' }).expect(200);
    await engineer.patch(`/signals/${world.signalId}`, body.version, { note: 'second' }).expect(412);
    expect((await engineer.get(`/signals/${world.signalId}`)).body.note).toBe('first');
  });

  it('a code is there once on a machine; names of another machine, wrong units and huge text are refused', async () => {
    const other = await aCircuit(engineer, 'C2');
    const code = { id: uuidv7(), machineId: world.machineId, code: 'M21', action: 'clamp' };
    await engineer.post('/m-codes', code).expect(409);
    await engineer.post('/m-codes', { ...code, code: 'M99', stationId: other.stationId }).expect(422);
    const signal = { id: uuidv7(), machineId: world.machineId, direction: 'output', name: 'Y9' };
    await engineer.post('/signals', { ...signal, circuitId: other.circuitId }).expect(422);
    await engineer.patch(`/signals/${world.signalId}`, 2, { mCodeId: other.mCodeId }).expect(422);
    await engineer.post('/signals', { ...signal, name: 'Y'.repeat(100_000) }).expect(422);
    const wire = { id: uuidv7(), signalId: world.signalId, number: '7', fromTerminal: 'X1', toTerminal: 'X2' };
    await engineer.post('/wires', { ...wire, crossSection: { value: 1, unit: 'bar' } }).expect(422);
    await engineer.post('/wires', { ...wire, protectionA: -4 }).expect(422);
  });
});

describe('control wiring of a circuit', () => {
  it('each figure that is wrong, and each that nobody has entered, is named', async () => {
    expect(await checkOf('control-wiring')).toMatchObject({ status: 'holds', numbers: { kind: 'voltage' } });
    await change(`/wires/${world.wireId}`, { protectionA: 16 });
    expect(await checkOf('control-wiring')).toMatchObject({
      status: 'fails',
      reason: 'protection-too-large',
      subject: { entity: 'wire', id: world.wireId },
      numbers: { kind: 'current', stated: { demand: 16, capacity: 7 } },
    });
    await change(`/wires/${world.wireId}`, { protectionA: null });
    expect(await checkOf('control-wiring')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'protectionA', ref: { id: world.wireId } }],
    });
    await change(`/wires/${world.wireId}`, { protectionA: 4, length: { value: 900, unit: 'm' } });
    // 900 m of 0.75 mm² there and back are some 45 Ω before a coil of 19 Ω.
    expect(await checkOf('control-wiring')).toMatchObject({ status: 'fails', reason: 'voltage-at-coil' });
    await change(`/wires/${world.wireId}`, { length: { value: 12, unit: 'm' } });
    await change(`/signals/${world.signalId}`, { suppression: 'none' });
    expect(await checkOf('control-wiring')).toMatchObject({ status: 'fails', reason: 'no-suppression' });
    await change(`/signals/${world.signalId}`, { suppression: 'transient-suppressor' });
    await change(`/machines/${world.machineId}`, { supplyRatingW: 60 });
    expect(await checkOf('control-wiring')).toMatchObject({
      status: 'fails',
      reason: 'supply-too-small',
      // 20 W and a coil of 30 W, with a quarter in reserve.
      numbers: { kind: 'power', stated: { demand: 62.5, capacity: 60 } },
    });
    await change(`/machines/${world.machineId}`, { supplyRatingW: 120 });
  });

  it('a change of a wire is audited, and one that a proof reads makes the sizing record stale until it is taken back', async () => {
    const id = uuidv7();
    await engineer.post('/sizing-records', { id, circuitId: world.circuitId, basis: 'target' }).expect(201);
    const record = async (): Promise<object> =>
      (await engineer.get(`/sizing-records/${id}`).expect(200)).body as object;
    const lead = await api.as(organisation.emails.administrator);
    const newest = async (): Promise<object> =>
      (await lead.get(`/audit-entries?entity=wire&entityId=${world.wireId}`).expect(200)).body.items[0] as object;
    await change(`/wires/${world.wireId}`, { colour: 'brown' });
    expect(await newest()).toMatchObject({ action: 'update', changes: { colour: { from: '', to: 'brown' } } });
    expect(await record()).toMatchObject({ currency: 'current', staleReasons: [] });
    await change(`/wires/${world.wireId}`, { length: { value: 13, unit: 'm' } });
    expect(await newest()).toMatchObject({ action: 'update', changes: { length: { to: { value: 13, unit: 'm' } } } });
    expect(await record()).toMatchObject({
      currency: 'stale',
      staleReasons: [{ entity: 'wire', entityId: world.wireId, change: 'update' }],
    });
    await change(`/wires/${world.wireId}`, { length: { value: 12, unit: 'm' } });
    expect(await record()).toMatchObject({ currency: 'current', staleReasons: [] });
  });
});

describe('interlock of a machine', () => {
  it('sound in every state, with the states of each station', async () => {
    expect(await checkOf('interlock-sound')).toMatchObject({ status: 'holds', reason: 'within' });
    const { proof, missing } = await interlock();
    expect(missing).toEqual([]);
    expect(proof).toMatchObject({ sound: true, shared: [] });
    expect(proof.stations[0].states).toBeGreaterThan(100);
    expect(proof.states).toBe(proof.stations[0].states);
  });

  it('a reset that unclamps is a story, step by step, with its signals', async () => {
    await behave({ onReset: 'unclamp' });
    expect(await checkOf('interlock-sound')).toMatchObject({ status: 'fails', reason: 'rule-broken' });
    const { proof } = await interlock();
    const found = proof.stations[0].broken.find((one: { fault: string }) => one.fault === 'none');
    expect(found.story[0]).toMatchObject({ event: 'clamp-code', signal: 'M21', clamped: true });
    expect(found.story.at(-1)).toMatchObject({ event: 'reset', clamped: false });
    await behave({ onReset: 'keep' });
  });

  it('two circuits of one station are worked by the same codes: nothing is shared', async () => {
    const circuitId = uuidv7();
    const place = { powerUnitId: world.powerUnitId, stationId: world.stationId };
    const second = { id: circuitId, ...place, name: 'Supports', valveBehaviour: 'double-detented', isCheckHeld: false };
    await engineer.post('/circuits', second).expect(201);
    const coil = { machineId: world.machineId, circuitId, direction: 'output', isHeldOn: true };
    await engineer.post('/signals', { id: uuidv7(), ...coil, name: 'Y3', actsOn: 'clamp-coil' }).expect(201);
    await engineer.post('/signals', { id: uuidv7(), ...coil, name: 'Y4', actsOn: 'unclamp-coil' }).expect(201);
    const input = { machineId: world.machineId, circuitId, direction: 'input', name: 'B2' };
    await engineer.post('/signals', { id: uuidv7(), ...input }).expect(201);
    expect(await checkOf('interlock-sound')).toMatchObject({ status: 'holds' });
    const { proof } = await interlock();
    expect(proof).toMatchObject({ sound: true, shared: [] });
    expect(proof.stations.map(({ name }: { name: string }) => name)).toEqual(['Station 1', 'Supports']);
    const { body } = await engineer.get(`/circuits/${circuitId}`).expect(200);
    await engineer.patch(`/circuits/${circuitId}`, body.version, { archived: true }).expect(200);
  });

  it('what nobody has said is asked for, never assumed', async () => {
    await behave({ onAirLow: null });
    expect(await checkOf('interlock-sound')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'behaviour.onAirLow', ref: { entity: 'machine' } }],
    });
    expect(await interlock()).toMatchObject({ proof: null, missing: [{ field: 'behaviour.onAirLow' }] });
    await behave({ onAirLow: 'stop' });
    await change(`/circuits/${world.circuitId}`, { valveBehaviour: null });
    expect(await checkOf('interlock-sound')).toMatchObject({ missing: [{ field: 'valveBehaviour' }] });
    await change(`/circuits/${world.circuitId}`, { valveBehaviour: 'double-detented' });
    await change(`/signals/${world.signalId}`, { archived: true });
    expect(await checkOf('interlock-sound')).toMatchObject({ missing: [{ field: 'clampOutput' }] });
    await change(`/signals/${world.signalId}`, { archived: false });
    expect((await checkOf('interlock-sound')).status).toBe('holds');
  });
});
