import { uuidv7 } from 'uuidv7';
import { anOrganisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Library')).emails.engineer);
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const exportOf = async (table: string): Promise<string> =>
  (await engineer.get(`/exports/${table}?format=csv`).expect(200)).text;
const LIBRARY = ['component-types', 'component-type-revisions'];
const libraryNow = () => Promise.all(LIBRARY.map(exportOf));

const HEADINGS =
  'Type: name;Type: kind;Type: part number;Type: source of its figures;Type: rated pressure [bar];Type: burst pressure;Type: burst pressure, source;Type: reason';

describe('component types', () => {
  it('come in with each figure and its source, are shown value by value, and are undone with their revisions', async () => {
    const id = uuidv7();
    const ratedPressure = { value: 275, unit: 'bar', source: 'sheet A, invented' };
    await engineer
      .post('/component-types', { id, kind: 'hose', name: 'Hose 6', figures: { ratedPressure } })
      .expect(201);
    const before = await libraryNow();
    const upload = await tryFile(
      engineer,
      'types.csv',
      csv(
        HEADINGS,
        'hose 6;hose;;sheet B, invented;280;1000 bar;test report, invented;new sheet',
        'Hose 8;hose;X-8;sheet C, invented;250;900 bar;;',
      ),
    );
    expect(await upload.findings()).toEqual([]);
    const rows = await upload.rows();
    const shown = rows.map(({ records }) =>
      records[0]?.changes.map(({ field, from, to }) => [field.replace('component-type.', ''), from, to]),
    );
    expect(shown[0]).toEqual([
      ['ratedPressure', '275 bar', '280 bar'],
      ['burstPressure', '', '1000 bar'],
      ['burstPressureSource', '', 'test report, invented'],
      ['ratedPressureSource', 'sheet A, invented', 'sheet B, invented'],
    ]);
    expect(shown[1]).toContainEqual(['burstPressureSource', '', 'sheet C, invented']);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const { body } = await engineer.get(`/component-types/${id}`).expect(200);
    expect(body).toMatchObject({
      name: 'Hose 6',
      revision: 2,
      figures: { ratedPressure: { value: 280, unit: 'bar', source: 'sheet B, invented' } },
    });
    const { body: revisions } = await engineer.get(`/component-types/${id}/revisions`).expect(200);
    expect(revisions.items.map(({ reason }: { reason: string }) => reason)).toEqual(['new sheet', 'first entry']);
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await libraryNow()).toEqual(before);
  });

  it('say all that is wrong with a row at once', async () => {
    await engineer.post('/component-types', { id: uuidv7(), kind: 'hose', name: 'Hose 10' }).expect(201);
    const upload = await tryFile(
      engineer,
      'wrong.csv',
      csv(
        'Type: name;Type: kind;Type: rated pressure [bar];Type: burst pressure [bar];Type: bore [mm];Type: length, source;Type: source of its figures',
        'Hose 10;tube;250;;;;invented',
        'Hose 12;hose;250;250;12;sheet;invented',
      ),
    );
    expect(await upload.findings()).toEqual([
      'B2 kind-stays',
      'F3 source-without-figure',
      'E3 figure-not-of-kind',
      'D3 figure',
    ]);
    const bare = await tryFile(
      engineer,
      'bare.csv',
      csv('Type: name;Type: kind;Type: rated pressure [bar]', 'Hose 14;hose;250'),
    );
    expect(await bare.findings()).toEqual(['C2 figure-without-source']);
  });

  it('stand in the same file as the components that are of them', async () => {
    const upload = await tryFile(
      engineer,
      'both.csv',
      csv(
        'Type: name;Type: kind;Customer;Site;Place;Time zone;Machine;Form;Way in;Station;Power unit;Drive;Circuit;Designation;Component type;Installed from',
        'Hose 16;hose;Norte Test;Hall;Braga;Europe/Lisbon;MC 1;pallets;direct;A;HPU 1;air;Clamp A;H1;Hose 16;2025-03-04',
      ),
    );
    expect(await upload.findings()).toEqual([]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    expect(await exportOf('installed-components')).toContain(',H1,Hose 16,');
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect((await exportOf('installed-components')).split('\r\n')).toHaveLength(2);
  });
});

describe('a machine’s control', () => {
  const MACHINE = 'Norte Test;Hall;Braga;Europe/Lisbon;MC 2;pallets;direct;A; B';
  it('comes in with its supply and its rules, and is refused beyond what it can be', async () => {
    const headings =
      'Customer,Site,Place,Time zone,Machine,Form,Way in,Stations,Control voltage as measured [V],Reserve of the control supply,Temperature of the wires [°C],Separate commons,When pressure is lost,Alarm latches';
    const row = (more: string) => `${MACHINE.replaceAll(';', ',').replace('A, B', '"A; B"')},${more}`;
    const wrong = await tryFile(engineer, 'wrong.csv', csv(headings, row('0,2,40,perhaps,explode,yes')));
    expect((await wrong.findings()).sort()).toEqual(['I2 zero', 'J2 range', 'L2 yes-or-no', 'M2 choice']);
    const upload = await tryFile(engineer, 'control.csv', csv(headings, row('24.5,0.25,40,yes,feed hold,no')));
    expect(await upload.findings()).toEqual([]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const machineOf = async () =>
      ((await engineer.get('/machines').expect(200)).body as { items: Record<string, unknown>[] }).items[0];
    expect(await machineOf()).toMatchObject({
      controlVoltageV: 24.5,
      supplyReserveRatio: 0.25,
      controlTemperature: { value: 40, unit: 'Cel' },
      hasSeparateCommons: true,
      controlBehaviour: { onPressureLoss: 'feed-hold', alarmLatches: false, onReset: null },
    });
    const before = await exportOf('machines');
    const change = await tryFile(
      engineer,
      'change.csv',
      csv('Customer;Site;Machine;When pressure is lost;Outputs on reset', 'Norte Test;Hall;MC 2;stop;keep'),
    );
    expect((await change.rows())[0]?.records[0]?.changes).toMatchObject([
      { field: 'machine.onPressureLoss', from: 'feed-hold', to: 'stop' },
      { field: 'machine.onReset', from: '', to: 'keep' },
    ]);
    await change.commit();
    expect(await machineOf()).toMatchObject({
      controlBehaviour: { onPressureLoss: 'stop', alarmLatches: false, onReset: 'keep' },
    });
    expect(await change.undo()).toMatchObject({ state: 'finished' });
    expect(await exportOf('machines')).toBe(before);
    expect(await machineOf()).toMatchObject({ controlBehaviour: { onPressureLoss: 'feed-hold', onReset: null } });
  });

  it('with a rod that does not go into its bore are refused, as they are in the form', async () => {
    const headings = 'Type: name;Type: kind;Type: source of its figures;Type: bore [mm];Type: rod [mm]';
    const lines = ['Clamp 25;swing-clamp;sheet D, invented;25;26', 'Clamp 26;swing-clamp;sheet D, invented;25;25'];
    const upload = await tryFile(engineer, 'rods.csv', csv(headings, ...lines));
    expect(await upload.findings()).toEqual(['D2 figure']);
    const [row] = await upload.rows();
    expect(row?.findings).toMatchObject([{ params: { figure: 'Type: bore', needs: 'at least its rod' } }]);
  });
});
