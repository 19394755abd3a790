import type { InstalledComponent } from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { aCircuit, ago, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Own figures')).emails.engineer);
  world = await aCircuit(engineer, 'O');
  const { machineId, circuitId, hoseTypeId } = world;
  const figures = { length: { value: 2.5, unit: 'm', source: 'measured [on site]' } };
  const component = { machineId, circuitId, componentTypeId: hoseTypeId, lineFunctions: ['clamp'], validFrom: ago(50) };
  await engineer.post('/installed-components', { id: uuidv7(), ...component, designation: 'H7', figures }).expect(201);
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const HEAD = 'Customer;Site;Machine;Circuit;Designation;Figures of its own;Component type;Installed from';
const row = (designation: string, ownFigures: string, rest = ';'): string =>
  `Customer O;Works;VMC-O;Station 1;${designation};${ownFigures};${rest}`;
const exportNow = async (): Promise<string> =>
  (await engineer.get('/exports/installed-components?format=csv').expect(200)).text;
const fittedAt = async (designation: string): Promise<InstalledComponent | undefined> => {
  const { body } = await engineer.get(`/installed-components?machineId=${world.machineId}&limit=200`).expect(200);
  return (body as { items: InstalledComponent[] }).items.find(
    (one) => one.designation === designation && one.validTo === null,
  );
};

describe('figures that a component has of its own', () => {
  it('go out and come in again as they are', async () => {
    const before = await exportNow();
    expect(before).toContain('length = 2.5 m [measured [on site\\]]');
    const again = await tryFile(engineer, 'again.csv', before);
    const { counts } = await again.get();
    expect(counts?.rows).toMatchObject({ created: 0, changed: 0, refused: 0 });
  });

  it('are added to a component that is there, and to a new one, and undone', async () => {
    const before = await exportNow();
    const was = await fittedAt('H7');
    const upload = await tryFile(
      engineer,
      'own.csv',
      csv(
        HEAD,
        row('H7', '"inner diameter = 6.5 mm [drawing 12; sheet 2]"'),
        row('H8', '"length = 80 in [tape]"', 'hose O;2026-01-05'),
      ),
    );
    expect(await upload.findings()).toEqual([]);
    expect((await upload.rows())[0]?.records.at(-1)?.changes).toMatchObject([
      {
        field: 'installed-component.ownFigures',
        from: 'length = 2.5 m [measured [on site\\]]',
        to: 'inner diameter = 6.5 mm [drawing 12; sheet 2]; length = 2.5 m [measured [on site\\]]',
      },
    ]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    expect((await fittedAt('H7'))?.figures).toEqual({
      ...was?.figures,
      innerDiameter: { value: 6.5, unit: 'mm', digits: 1, source: 'drawing 12; sheet 2' },
    });
    expect((await fittedAt('H8'))?.effectiveFigures).toMatchObject({ length: { value: 80, unit: '[in_i]' } });
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await exportNow()).toEqual(before);
    expect((await fittedAt('H7'))?.figures).toEqual(was?.figures);
  });

  it('said otherwise are another component, from a day that the file says', async () => {
    const open = await tryFile(engineer, 'open.csv', csv(HEAD, row('H7', '"length = 3 m [tape]"')));
    expect(await open.findings()).toEqual(['row 2 component-differs']);
    const exchanged = await tryFile(
      engineer,
      'exchange.csv',
      csv(HEAD, row('H7', '"length = 3 m [tape]"', `hose O;${ago(2)}`)),
    );
    expect(await exchanged.findings()).toEqual([]);
    const before = await exportNow();
    expect(await exchanged.commit()).toMatchObject({ state: 'finished' });
    expect((await fittedAt('H7'))?.figures).toEqual({ length: { value: 3, unit: 'm', digits: 0, source: 'tape' } });
    expect(await exchanged.undo()).toMatchObject({ state: 'finished' });
    expect(await exportNow()).toEqual(before);
  });

  it('that their kind does not have, that cannot be, or that cannot be read are refused', async () => {
    const wrong = await tryFile(
      engineer,
      'wrong.csv',
      csv(
        HEAD,
        row('H7', '"bore = 40 mm [tape]"'),
        row('H1.4', '"inner diameter = 6 mm"'),
        row('H9', '"burst pressure = 10 bar [tape]"', 'hose O;2026-01-05'),
      ),
    );
    expect(await wrong.findings()).toEqual(['F2 figure', 'F3 own-figures', 'F4 figure']);
  });
});
