import { aCircuit, anOrganisation, type CircuitWorld } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile, type ImportClient } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;
let stranger: TestClient;
let world: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  engineer = await api.as((await anOrganisation(api, 'Wiring')).emails.engineer);
  stranger = await api.as((await anOrganisation(api, 'Empty')).emails.engineer);
  world = await aCircuit(engineer, 'W');
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const exportOf = async (client: TestClient, table: string): Promise<string> =>
  (await client.get(`/exports/${table}?format=csv`).expect(200)).text;

async function bringIn(client: TestClient, name: string, text: string): Promise<ImportClient> {
  const upload = await tryFile(client, name, text);
  expect([name, await upload.findings()]).toEqual([name, []]);
  expect(await upload.commit()).toMatchObject({ state: 'finished' });
  return upload;
}

describe('codes, signals and wires', () => {
  const names = async () => {
    const { body } = await engineer.get(`/machines/${world.machineId}`).expect(200);
    const circuit = (await engineer.get(`/circuits/${world.circuitId}`).expect(200)).body;
    const components = (await engineer.get(`/installed-components?machineId=${world.machineId}`).expect(200)).body;
    return {
      at: `${body.customerName};${body.siteName};${body.name}`,
      station: String(body.stations[0].name),
      circuit: String(circuit.name),
      item: String(components.items[0].designation),
    };
  };

  it('are imported from one flat sheet, exported, undone and made anew', async () => {
    const { at, station, circuit, item } = await names();
    const before = await Promise.all(['m-codes', 'signals', 'wires'].map((table) => exportOf(engineer, table)));
    const file = csv(
      'Customer;Site;Machine;Station;M-code;M-code action;Waits for the answer;M-code time-out;Circuit;Signal;Direction;Acts on;Signal of component;Suppression;Suppression voltage [V];Held on;Wire;From terminal;To terminal;Cross-section [mm²];Protected by',
      `${at};${station};M90;clamp;yes;8 s;${circuit};Y90;output;clamp coil;${item};diode;0.7;yes;901;X1:1;X2:1;0.75;2 A`,
      `${at};${station};M91;unclamp;no;8000 ms;${circuit};Y91;output;unclamp coil;;;;no;911;X1:2;X2:2;0.75;2 A`,
    );
    const upload = await bringIn(engineer, 'control.csv', file);
    expect(await exportOf(engineer, 'm-codes')).toContain('M90,clamp,true,8,');
    expect(await exportOf(engineer, 'signals')).toContain(`Y90,output,,clamp-coil,${item},`);
    expect(await exportOf(engineer, 'wires')).toContain('901,X1:1,X2:1,,0.75,');
    const again = await tryFile(engineer, 'control.csv', file);
    expect((await again.get()).counts?.rows).toMatchObject({ created: 0, changed: 0, unchanged: 2 });
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect(await Promise.all(['m-codes', 'signals', 'wires'].map((table) => exportOf(engineer, table)))).toEqual(
      before,
    );
    await bringIn(engineer, 'control.csv', file);
  });

  it('follow the rules of their services: what a signal names is of its machine, and stays', async () => {
    const { at, circuit } = await names();
    const unknown = await tryFile(
      engineer,
      'unknown.csv',
      csv('Customer;Site;Machine;Circuit;Signal;Direction;Signal of component', `${at};${circuit};Y99;input;No such`),
    );
    expect(await unknown.findings()).toEqual(['G2 component-unknown']);
    const moved = await tryFile(engineer, 'moved.csv', csv('Customer;Site;Machine;M-code;Signal', `${at};M91;Y90`));
    expect(await moved.findings()).toEqual(['row 2 cannot-move']);
    const bare = await tryFile(engineer, 'bare.csv', csv('Customer;Site;Machine;M-code', `${at};M95`));
    expect(await bare.findings()).toEqual(['row 2 missing']);
  });

  it('are the same in an empty organisation, exported from there again', async () => {
    const tables = [
      'customers',
      'sites',
      'machines',
      'stations',
      'power-units',
      'circuits',
      'm-codes',
      'signals',
      'wires',
    ];
    for (const table of tables) {
      // Its component is none of the tables that are taken along here.
      const text = (await exportOf(engineer, table)).replace(/(Y90,output,,clamp-coil,)[^,]*/, '$1');
      await bringIn(stranger, `${table}.csv`, text);
      expect([table, sorted(await exportOf(stranger, table))]).toEqual([table, sorted(text)]);
    }
  });
});

/** Rows come by their ids, which are others in another organisation. */
const sorted = (text: string): string[] => text.split('\r\n').sort();
