import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';

let api: TestApi;
let engineer: TestClient;
let world: CircuitWorld;
const quantity = (value: number, unit: string) => ({ value, unit });
const figure = (value: number, unit = '1') => ({ value, unit, source: 'test data, invented' });

beforeAll(async () => {
  api = await startApi();
  const organisation = await anOrganisation(api, 'Impossible');
  engineer = await api.as(organisation.emails.engineer);
  world = await aCircuit(engineer, 'I1');
});
afterAll(() => api.stop());

describe('a figure that nothing has is refused by its name', () => {
  const aType = (kind: string, figures: object) => ({ id: uuidv7(), kind, name: `type ${uuidv7()}`, figures });

  it.each([
    ['pump', { stallEfficiency: figure(1.05) }, 'stallEfficiency'],
    ['hose', { temperatureDerating: figure(1.1) }, 'temperatureDerating'],
    ['hose', { ratedPressure: figure(400, 'bar'), burstPressure: figure(400, 'bar') }, 'burstPressure'],
    ['relief-valve', { openingPressure: figure(200, 'bar'), fullFlowPressure: figure(19, 'MPa') }, 'fullFlowPressure'],
    ['swing-clamp', { bore: figure(25, 'mm'), rod: figure(2.51, 'cm') }, 'bore'],
    ['work-support', { bore: figure(25, 'mm'), rod: figure(26, 'mm') }, 'bore'],
  ])('of a type: %s %j', async (kind, figures, name) => {
    const { body } = await engineer.post('/component-types', aType(kind, figures)).expect(422);
    expect(body.errors).toMatchObject([{ pointer: `/figures/${name}/value` }]);
  });

  it.each([
    ['pump', { stallEfficiency: figure(1) }],
    ['hose', { ratedPressure: figure(400, 'bar'), burstPressure: figure(1600, 'bar'), ageDerating: figure(1) }],
    ['relief-valve', { openingPressure: figure(200, 'bar'), fullFlowPressure: figure(200, 'bar') }],
    ['relief-valve', { fullFlowPressure: figure(200, 'bar') }],
    ['cylinder', { bore: figure(25, 'mm'), rod: figure(25, 'mm') }],
    ['cylinder', { rod: figure(25, 'mm') }],
  ])('one that may be is taken: %s %j', async (kind, figures) => {
    await engineer.post('/component-types', aType(kind, figures)).expect(201);
  });

  it('of an element of a fixture, when it is made and when it is changed', async () => {
    const element = (figures: object) => ({ id: uuidv7(), kind: 'clamp', name: 'Clamp', quantity: 1, ...figures });
    const made = (...elements: object[]) =>
      engineer.post('/fixtures', { id: uuidv7(), customerId: world.customerId, name: `Fx ${uuidv7()}`, elements });
    const [bar, mm] = [(value: number) => quantity(value, 'bar'), (value: number) => quantity(value, 'mm')];
    const rodOver = element({ bore: mm(25), rod: quantity(2.51, 'cm') });
    const { body } = await made(element({}), rodOver).expect(422);
    expect(body.errors).toMatchObject([{ field: 'elements.1.bore', code: 'order', needs: 'at least its rod' }]);
    const leastOver = element({ ratedPressure: bar(200), leastWorkingPressure: quantity(21, 'MPa') });
    const refused = await made(leastOver).expect(422);
    expect(refused.body.errors).toMatchObject([{ field: 'elements.0.ratedPressure', code: 'order' }]);
    const fine = element({ bore: mm(25), rod: mm(25), ratedPressure: bar(200), leastWorkingPressure: bar(200) });
    const { body: fixture } = await made(fine).expect(201);
    const path = `/fixtures/${String(fixture.id)}`;
    await engineer.patch(path, Number(fixture.version), { elements: [rodOver] }).expect(422);
    await engineer.patch(path, Number(fixture.version), { elements: [fine] }).expect(200);
  });

  it('of a component beside those of its type', async () => {
    const type = aType('relief-valve', { openingPressure: figure(200, 'bar'), fullFlowPressure: figure(215, 'bar') });
    await engineer.post('/component-types', type).expect(201);
    const fit = (figures: object) =>
      engineer.post('/installed-components', {
        ...{ id: uuidv7(), machineId: world.machineId, circuitId: world.circuitId, componentTypeId: type.id },
        ...{ designation: 'V9', lineFunctions: ['clamp'], validFrom: ago(1), isBeyondShutOff: true, figures },
      });
    const { body } = await fit({ openingPressure: figure(220, 'bar') }).expect(422);
    expect(body.errors).toMatchObject([{ field: 'figures.fullFlowPressure.value', code: 'figure' }]);
    expect((await fit({ openingPressure: figure(210, 'bar') }).expect(201)).body.isBeyondShutOff).toBe(true);
  });

  it('of oil: a bulk modulus beyond that of any, as it is with a wrong unit', async () => {
    const path = `/power-units/${world.powerUnitId}`;
    const modulus = async (oilBulkModulus: object, status: number) => {
      const { body } = await engineer.get(path).expect(200);
      return engineer.patch(path, body.version, { oilBulkModulus }).expect(status);
    };
    for (const wrong of [quantity(1500, 'Pa'), quantity(0.05, 'GPa'), quantity(15, 'GPa')]) {
      const { body } = await modulus(wrong, 422);
      expect(body.errors).toMatchObject([{ pointer: '/oilBulkModulus/value', code: 'size' }]);
    }
    await modulus(quantity(1400, 'MPa'), 200);
    const circuitPath = `/circuits/${world.circuitId}`;
    const { body } = await engineer.get(circuitPath).expect(200);
    const refused = await engineer.patch(circuitPath, body.version, { trappedBulkModulus: quantity(50, 'MPa') }).expect(422); // prettier-ignore
    expect(refused.body.errors).toMatchObject([{ needs: '100 to 5000 MPa' }]);
  });

  it('a reading of a setting by a gauge that ends below it', async () => {
    const bar = (value: number) => quantity(value, 'bar');
    const reading = (gaugeSpan: number) => ({
      ...{ id: uuidv7(), circuitId: world.circuitId, setting: bar(175), settingTolerance: bar(4), setPoint: bar(150) },
      ...{ resetPoint: bar(142), airPressure: bar(4.5), pumpRestart: bar(160), pumpRestartTolerance: bar(3) },
      ...{ gaugeSpan: bar(gaugeSpan), gaugeClass: '1.6', reportName: 'R', reason: 'read', measuredAt: ago(1) },
      ...{ measuredByName: 'W. Reader', afterRevision: 1 },
    });
    const { body } = await engineer.post('/setup-records', reading(160)).expect(422);
    expect(body.errors).toMatchObject([{ field: 'gaugeSpan', code: 'order' }]);
    await engineer.post('/setup-records', reading(250)).expect(201);
  });
});
