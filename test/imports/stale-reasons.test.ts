import type { SizingRecordSummary } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Stale')).emails.engineer);
  world = await aCircuit(engineer, 'S');
});
afterAll(() => api.stop());

describe('a sizing record that an import made stale', () => {
  it('says what was changed, from what to what, as it does of an edit by hand', async () => {
    await engineer.post('/sizing-records', { id: uuidv7(), circuitId: world.circuitId }).expect(201);
    const upload = await tryFile(
      engineer,
      'circuit.csv',
      'Customer;Site;Machine;Circuit;Return pressure [bar]\r\nCustomer S;Works;VMC-S;Station 1;3\r\n',
    );
    expect(await upload.findings()).toEqual([]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const { body } = await engineer.get(`/sizing-records?circuitId=${world.circuitId}`).expect(200);
    const [record] = (body as { items: SizingRecordSummary[] }).items;
    expect(record?.currency).toBe('stale');
    expect(record?.staleReasons).toMatchObject([
      {
        entity: 'circuit',
        entityId: world.circuitId,
        change: 'import',
        changes: { returnPressure: { from: { value: 2, unit: 'bar' }, to: { value: 3, unit: 'bar' } } },
      },
    ]);
  });

  it('tells an element as a part of its fixture', async () => {
    const upload = await tryFile(
      engineer,
      'element.csv',
      'Customer;Fixture;Element;Element: stroke [mm]\r\nCustomer S;F-S;Swing clamps;14\r\n',
    );
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const { body } = await engineer.get(`/sizing-records?circuitId=${world.circuitId}`).expect(200);
    const [record] = (body as { items: SizingRecordSummary[] }).items;
    expect(record?.staleReasons.map(({ changes }) => changes)).toContainEqual({
      elements: {
        'Swing clamps': {
          stroke: { from: { value: 12, unit: 'mm', digits: 0 }, to: { value: 14, unit: 'mm', digits: 0 } },
        },
      },
    });
  });
});
