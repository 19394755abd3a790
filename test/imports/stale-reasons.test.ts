import type { ComponentType, SizingRecordSummary } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile, type ImportClient } from './support/import-client.js';

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

describe('a sizing record of which the components are imported', () => {
  const newest = async (): Promise<SizingRecordSummary | undefined> => {
    const { body } = await engineer.get(`/sizing-records?circuitId=${world.circuitId}`).expect(200);
    return (body as { items: SizingRecordSummary[] }).items[0];
  };
  const importTypes = async (columns: string, cells: string): Promise<ImportClient> => {
    const { body } = await engineer.get(`/component-types/${world.hoseTypeId}`).expect(200);
    const { kind, name } = body as ComponentType;
    const upload = await tryFile(
      engineer,
      'types.csv',
      `Type: name;Type: kind;${columns}\r\n${name};${kind};${cells}\r\n`,
    );
    expect(await upload.findings()).toEqual([]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    return upload;
  };
  beforeAll(async () => {
    for (const basis of ['as-left', 'target']) {
      await engineer.post('/sizing-records', { id: uuidv7(), circuitId: world.circuitId, basis }).expect(201);
    }
  });

  it('stays current when a note of one comes in, and when that is undone', async () => {
    const upload = await importTypes('Type: note', 'ask for the new sheet');
    expect(await newest()).toMatchObject({ currency: 'current', staleReasons: [] });
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await newest()).toMatchObject({ currency: 'current', staleReasons: [] });
  });

  it('goes stale by a figure, and is current again once the import is undone', async () => {
    const upload = await importTypes('Type: rated pressure [bar];Type: source of its figures', '230;data sheet');
    expect(await newest()).toMatchObject({ currency: 'stale', staleReasons: [{ entity: 'component-type' }] });
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await newest()).toMatchObject({ currency: 'current', staleReasons: [] });
  });
});
