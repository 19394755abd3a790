import { setTimeout as delay } from 'node:timers/promises';
import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, asSuperuser, type CircuitWorld } from '../builders/world.js';
import { aDrilling, mm, onRestPads, RADIUS } from '../builders/drilled.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside', STANDINGS_LOOK_MS: '200' });
  const organisation = await anOrganisation(api, 'Computed');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'O1');
});
afterAll(() => api.stop());

/** Hand calculation: statics of one central clamp over three pads, F = S·(0.3·thrust + torque/(μ·r)). */
const byHand = (() => {
  const [kc11, mc, diameter, feed] = [2500, 0.26, 8.5, 0.15];
  const angle = (59 * Math.PI) / 180;
  const chip = (feed / 2) * Math.sin(angle);
  const kc = kc11 * chip ** -mc;
  const torqueNm = (kc * feed * diameter ** 2) / 8 / 1000;
  const thrustN = (kc * feed * diameter * Math.sin(angle)) / 2;
  const forceN = 2 * (0.3 * thrustN + torqueNm / (0.2 * (RADIUS / 1000)));
  return (forceN / 8000) * 250;
})();

const current = async () => {
  const { body } = await engineer.get(`/operations?fixtureId=${world.fixtureId}&limit=50`).expect(200);
  return body.items.find((one: { number: number }) => one.number === 10);
};
const changeOperation = async (body: object) => {
  const before = await current();
  return (await engineer.patch(`/operations/${before.id}`, before.version, body).expect(200)).body;
};
const changeFixture = async (body: object) => {
  const { body: before } = await engineer.get(`/fixtures/${world.fixtureId}`).expect(200);
  await engineer.patch(`/fixtures/${world.fixtureId}`, before.version, body).expect(200);
};
const ladder = async () =>
  (await engineer.get(`/circuits/${world.circuitId}/pressure-ladder?basis=as-left`).expect(200)).body.ladder;

describe('required pressure, computed', () => {
  it('a half-described cut is kept, and says what is missing; nothing is assumed', async () => {
    const made = await changeOperation({ requiredBasis: 'computed', cut: { method: 'drilling' } });
    expect(made).toMatchObject({
      requiredBasis: 'computed',
      requiredPressure: null,
      cut: { method: 'drilling', feed: null },
      computed: { status: 'missing', requiredPressurePa: null },
      typedRequired: { requiredPressure: { value: 118, unit: 'bar' } },
    });
    const fields = made.computed.missing.map(({ field }: { field: string }) => field);
    expect(fields).toEqual(expect.arrayContaining(['kc11Pa', 'feedM', 'pointsM', 'locators', 'places']));
    expect((await ladder()).status).toBe('unproven');
  });

  it('a cut and a fixture that are known give what statics gives by hand', async () => {
    await changeFixture({ elements: onRestPads() });
    const made = await changeOperation({ cut: aDrilling });
    expect(made.computed).toMatchObject({
      status: 'held',
      // Going in and breaking through, each with and without the torque; and clamped, not cutting.
      cases: 5,
      governingClamp: { name: 'Swing clamps', piece: 1 },
    });
    expect(made.requiredPressure.value / byHand).toBeCloseTo(1, 2);
    expect(made.requiredSource).toMatch(/^operation-required-pressure \d+\.\d+\.\d+$/);
    const rung = (await ladder()).rungs.find((one: { code: string }) => one.code === 'required');
    expect(rung).toMatchObject({ basis: 'computed' });
    // And what 2 bar in the return line take, on piston over annulus of 25 and 16 mm.
    expect(rung.pressurePa / 1e5).toBeCloseTo(made.requiredPressure.value + (2 * 625) / (625 - 256), 6);
  });

  it('a weaker clamp asks for more: the operation begins anew, the record goes stale, the past stays', async () => {
    const before = await current();
    const id = uuidv7();
    await engineer.post('/sizing-records', { id, circuitId: world.circuitId, basis: 'target' }).expect(201);
    await changeFixture({ elements: onRestPads({ ratedForce: { value: 4, unit: 'kN' } }) });
    const after = await current();
    expect(after.id).not.toBe(before.id);
    expect(after.requiredPressure.value / before.requiredPressure.value).toBeCloseTo(2, 2);
    const { body: ended } = await engineer.get(`/operations/${before.id}`).expect(200);
    expect(ended.validTo).toBe(after.validFrom);
    const { body: record } = await engineer.get(`/sizing-records/${id}`).expect(200);
    expect(record.currency).toBe('stale');
    const same = await current();
    await changeFixture({ note: 'nothing that holds' });
    expect((await current()).id).toBe(same.id);
  });

  it('what no pressure holds, and what cannot be, is said plainly', async () => {
    await changeFixture({
      elements: onRestPads({ frictionCoefficient: 0 }).map((one) => ({ ...one, frictionCoefficient: 0 })),
    });
    expect(await current()).toMatchObject({ requiredPressure: null, computed: { status: 'not-held' } });
    const [holds] = (await ladder()).checks;
    expect(holds).toMatchObject({
      ...{ code: 'holds-workpiece', status: 'fails', reason: 'no-pressure-holds' },
      ...{ subject: { entity: 'operation', name: '10 Rough face' }, loadCase: '1/in' },
    });
    // Its one clamp beside the pads: the workpiece tips as soon as it closes.
    const beside = { x: mm(-60), y: mm(0), z: mm(40), direction: { x: 0, y: 0, z: -1 } };
    await changeFixture({ elements: onRestPads({ places: [beside] }) });
    expect((await current()).computed).toMatchObject({ status: 'not-held', governingCase: 'clamped/1' });
    expect((await ladder()).checks[0]).toMatchObject({ status: 'fails', loadCase: 'clamped/1' });
    await changeFixture({ elements: onRestPads() });
    expect((await current()).computed.status).toBe('held');
    // A drill that is wider than its feed can be ground is no drill: 180° of point and more.
    const flat = { ...aDrilling, pointAngle: { value: 200, unit: 'deg' } };
    expect((await changeOperation({ cut: flat })).computed).toMatchObject({
      status: 'refused',
      refused: { fields: ['pointAngleRad'] },
    });
  });

  it('a pallet that tilts is asked how fast; what its moving does to the workpiece is then held as well', async () => {
    // Hardly a cut: what holds the workpiece while it is moved is what is asked for.
    const heavy = { ...aDrilling, feed: mm(0.0001), workpieceMass: { value: 30, unit: 'kg' } };
    const tilting = { ...heavy, otherGravities: [{ x: 1, y: 0, z: 0 }] };
    const unknown = await changeOperation({ cut: tilting });
    expect(unknown).toMatchObject({ requiredPressure: null, computed: { status: 'missing' } });
    expect((await ladder()).checks[0]).toMatchObject({ code: 'holds-workpiece', status: 'unproven' });
    const moving = (speed: number, acceleration: number) =>
      changeOperation({
        cut: {
          ...tilting,
          indexingSpeed: { value: speed, unit: 'circ/min' },
          indexingAcceleration: { value: acceleration, unit: 'deg/s2' },
          indexingRadius: mm(300),
          workpieceRadius: mm(150),
        },
      });
    const slow = await moving(0, 0);
    const fast = await moving(30, 900);
    expect(fast.cut).toMatchObject({ indexingSpeed: { value: 30, unit: 'circ/min' } });
    expect(fast.computed).toMatchObject({ status: 'held', governingCase: 'indexing/2' });
    expect(fast.requiredPressure.value).toBeGreaterThan(slow.requiredPressure.value);
    // π rad/s and 5π rad/s² make 18.56 rad/s²: with the safety factor at least 2 · 30 kg · 0.3 m of it beside the weight, by friction on two faces.
    const forceN = (30 * 9.80665 + 2 * 30 * 0.3 * Math.hypot(5 * Math.PI, Math.PI ** 2)) / 0.4;
    expect((fast.requiredPressure.value / 250) * 8000).toBeGreaterThanOrEqual(forceN);
  });

  it('what its supports bear is computed, and judged by what they carry at the pressure that is there', async () => {
    const support = {
      ...{ id: uuidv7(), kind: 'support', name: 'Support', quantity: 1, frictionCoefficient: 0.2, acting: 'single' },
      ...{ ratedForce: { value: 4, unit: 'kN' }, ratedPressure: { value: 250, unit: 'bar' } },
      ...{ leastWorkingPressure: { value: 30, unit: 'bar' }, highestLoad: { value: 1, unit: 'N' } },
      places: [{ x: mm(0), y: mm(0), z: mm(0), direction: { x: 0, y: 0, z: 1 } }],
    };
    const bears = async (ratedForce: object) => {
      await changeFixture({ elements: [...onRestPads(), { ...support, ratedForce }] });
      const order = (await ladder()).checks.find(({ code }: { code: string }) => code === 'order-and-speed');
      const { pairs = [] } = order as { pairs?: { reason: string; subject: { name: string } }[] };
      return pairs.filter(({ reason }) => reason === 'support-overloaded').length;
    };
    await changeOperation({ cut: aDrilling });
    expect(await bears({ value: 40, unit: 'kN' })).toBe(0);
    const [load] = (await current()).computed.supportLoads;
    expect(load).toMatchObject({ elementId: support.id, atPressurePa: expect.any(Number) });
    expect(load.loadN).toBeGreaterThan(500);
    // Typed as a newton: what was computed goes before it.
    expect(await bears({ value: 1.5, unit: 'kN' })).toBeGreaterThan(0);
    await changeFixture({ elements: onRestPads() });
  });

  it('what another version of the calculations computed is computed anew, and the past stays', async () => {
    const before = await changeOperation({ cut: aDrilling });
    await asSuperuser(api, (db) =>
      db.query(`UPDATE operations SET cut = jsonb_set(cut, '{computed,calculationVersion}', '"0.9.0"') WHERE id = $1`, [
        before.id,
      ]),
    );
    const until = Date.now() + 60_000;
    while ((await current()).id === before.id && Date.now() < until) await delay(100);
    const after = await current();
    expect(after.id).not.toBe(before.id);
    expect(after.computed).toEqual(before.computed);
    const { body: ended } = await engineer.get(`/operations/${before.id}`).expect(200);
    expect(ended).toMatchObject({ validTo: after.validFrom, computed: { calculationVersion: '0.9.0' } });
    expect((await ladder()).rungs.find((one: { code: string }) => one.code === 'required').pressurePa).toBeGreaterThan(
      0,
    );
  });

  it('going back to typing brings back what was typed', async () => {
    const typed = await changeOperation({ requiredBasis: 'typed' });
    expect(typed).toMatchObject({
      requiredBasis: 'typed',
      requiredPressure: { value: 118, unit: 'bar' },
      computed: null,
      cut: { method: 'drilling' },
    });
    expect(await changeOperation({ requiredBasis: 'computed', cut: aDrilling })).toMatchObject({
      computed: { status: 'held' },
      typedRequired: { requiredPressure: { value: 118 } },
    });
  });

  it('computed without a cut, paths beyond measure and other units are refused', async () => {
    const { id, version } = await current();
    const refuse = (body: object) => engineer.patch(`/operations/${id}`, version, body).expect(422);
    await refuse({ requiredBasis: 'computed', cut: null });
    const points = Array.from({ length: 101 }, () => aDrilling.points[0]);
    await refuse({ cut: { ...aDrilling, points } });
    await refuse({ cut: { ...aDrilling, feed: { value: 1, unit: 'bar' } } });
    await refuse({ cut: { ...aDrilling, toolAxis: { x: 0, y: 0, z: 0 } } });
    const create = { id: uuidv7(), fixtureId: world.fixtureId, number: 20, name: 'Drill', validFrom: ago(1) };
    await engineer.post('/operations', { ...create, requiredBasis: 'computed' }).expect(422);
    const { body } = await engineer
      .post('/operations', { ...create, requiredBasis: 'computed', cut: aDrilling })
      .expect(201);
    expect(body).toMatchObject({ requiredBasis: 'computed', computed: { status: 'held' }, typedRequired: null });
  });
});
