import type { Circuit, Customer, Machine, SetupRecord } from '@repo/contracts';
import pg from 'pg';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { ImportClient, tryFile } from './support/import-client.js';

let api: TestApi;
let home: Organisation;
let engineer: TestClient;
let client: pg.Client;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  home = await anOrganisation(api, 'Imports');
  engineer = await api.as(home.emails.engineer);
  client = new pg.Client({ connectionString: api.db.superuserUrl });
  await client.connect();
  await engineer
    .post('/component-types', { id: uuidv7(), kind: 'hose', name: 'Hose DN 6, 350 bar', partNumber: 'X-HOSE-6' })
    .expect(201);
});
afterAll(async () => {
  await client.end();
  await api.stop();
});

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;

/** One flat sheet: each row names a component, its circuit, and all that they hang on. */
const flat = (customer: string, pressure = '210 bar'): string =>
  csv(
    'Customer;Site;Place;Time zone;Machine;Form;Way in;Station;Power unit;Drive;Circuit;Item;Component;Serial;Installed on;Fixture;Fixture fitted on;Pressure;Measured on;Measured by;Report no;Why',
    ...['A', 'B'].flatMap((pallet) => [
      `${customer};Hall 1;Braga;Europe/Lisbon;MC 7;pallets;rotary union;Pallet ${pallet};HPU 1;air;Clamp ${pallet};H1.${pallet};Hose DN 6, 350 bar;0071;2025-03-04;Fx ${pallet};2025-03-04;${pressure};2025-03-05;R. Test;R-1;installed base`,
      `${customer};Hall 1;Braga;Europe/Lisbon;MC 7;pallets;rotary union;Pallet ${pallet};HPU 1;air;Clamp ${pallet};H2.${pallet};X-HOSE-6;0072;2025-03-04;Fx ${pallet};2025-03-04;${pressure};2025-03-05;R. Test;R-1;installed base`,
    ]),
  );

const count = async (table: string, where = 'true'): Promise<number> =>
  Number((await client.query(`SELECT count(*) AS n FROM ${table} WHERE ${where}`)).rows[0].n);

describe('an import of an installed base', () => {
  let current: ImportClient;

  it('says what would happen before anything is written', async () => {
    const before = await count('customers');
    current = await tryFile(engineer, 'base.csv', flat('Norte Test'));
    const { counts, state, questions } = await current.get();
    expect(await current.findings()).toEqual([]);
    expect({ state, questions }).toEqual({ state: 'checked', questions: [] });
    expect(counts?.rows).toEqual({ created: 4, changed: 0, unchanged: 0, refused: 0 });
    const created = Object.fromEntries(Object.entries(counts?.records ?? {}).map(([key, one]) => [key, one.created]));
    expect(created).toEqual({
      customer: 1,
      site: 1,
      machine: 1,
      station: 2,
      'power-unit': 1,
      circuit: 2,
      'installed-component': 4,
      fixture: 2,
      'fixture-fitting': 2,
      'setup-record': 2,
    });
    expect(await count('customers')).toBe(before);
  });

  it('shows every value of a new record, as read and in the unit in which it is shown', async () => {
    const trial = await tryFile(engineer, 'values.csv', flat('Values Test', '3000 psi'));
    const [first, second] = await trial.rows('created');
    const written = (entity: string) =>
      first?.records
        .find((record) => record.entity === entity)
        ?.changes.map(({ field, from, to, converted }) => [field, from, to, converted]);
    expect(written('site')).toEqual([
      ['site.name', '', 'Hall 1', ''],
      ['site.place', '', 'Braga', ''],
      ['site.timeZone', '', 'Europe/Lisbon', ''],
    ]);
    expect(written('setup-record')).toContainEqual(['setup-record.setting', '', '3000 psi', '206.8 bar']);
    // What two rows say of one record is shown with the first of them.
    expect(second?.records.map((record) => record.entity)).not.toContain('site');
  });

  it('writes all of it in one go, with standings and an audit trail', async () => {
    expect(await current.commit()).toMatchObject({ state: 'finished', result: { circuits: 2 } });
    const { items } = (await engineer.get('/customers').expect(200)).body as { items: Customer[] };
    const customer = items.find((item) => item.name === 'Norte Test');
    expect(customer?.circuits).toEqual({ unproven: 2 });
    const machines = (await engineer.get(`/machines?customerId=${customer?.id}`).expect(200)).body.items as Machine[];
    expect(machines[0]).toMatchObject({ name: 'MC 7', siteName: 'Hall 1', wayIn: 'rotary-union' });
    expect(machines[0]?.stations.map((station) => station.name)).toEqual(['Pallet A', 'Pallet B']);
    const circuits = (await engineer.get(`/circuits?machineId=${machines[0]?.id}`).expect(200)).body.items as Circuit[];
    expect(circuits.map((circuit) => [circuit.name, circuit.stationName]).sort()).toEqual([
      ['Clamp A', 'Pallet A'],
      ['Clamp B', 'Pallet B'],
    ]);
    const records = (await engineer.get(`/setup-records?circuitId=${circuits[0]?.id}`).expect(200)).body
      .items as SetupRecord[];
    expect(records[0]).toMatchObject({
      setting: { value: 210, unit: 'bar' },
      measuredAt: '2025-03-05T00:00:00.000Z',
      reportName: 'R-1',
    });
    expect(records[0]?.fixtureName).toMatch(/^Fx /);
    const found = await engineer.get('/circuits/standings?status=all&search=0071').expect(200);
    expect(found.body.items).toHaveLength(2);
    const trail = await client.query(
      `SELECT count(*) AS n FROM audit_entries WHERE action = 'import-create' AND request_id = $1`,
      [current.id],
    );
    expect(Number(trail.rows[0].n)).toBe(18);
  });

  it('a second time changes nothing, and the mapping is remembered', async () => {
    const again = await ImportClient.begin(engineer, 'another name.csv');
    await again.send(Buffer.from(flat('Norte Test')));
    expect((await again.get()).isRemembered).toBe(true);
    const { counts } = await again.check();
    expect(counts?.rows).toEqual({ created: 0, changed: 0, unchanged: 4, refused: 0 });
    const rows = await count('audit_entries');
    expect(await again.commit()).toMatchObject({ state: 'finished', result: { records: 0 } });
    expect(await count('audit_entries')).toBe(rows);
  });

  it('shows what would change, old and new, by its cell; settings become a new revision', async () => {
    const changed = await tryFile(engineer, 'changed.csv', flat('Norte Test', '3000 psi'));
    const rows = await changed.rows('changed');
    expect(rows).toHaveLength(2);
    expect(rows[0]?.records.at(-1)).toMatchObject({
      entity: 'setup-record',
      outcome: 'changed',
      changes: [{ field: 'setup-record.setting', from: '210 bar', to: '3000 psi', converted: '206.8 bar', cell: 'R2' }],
    });
    expect(await changed.commit()).toMatchObject({ state: 'finished' });
    expect(await count('setup_records', `report_name = 'R-1'`)).toBe(4);
  });

  it('is refused to be undone when something was built on it, and says what', async () => {
    const job = await current.undo();
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'import.built-upon' } });
    expect(job.problem?.errors?.map((error) => `${error.field} ${error.code}`)).toContain(
      'setup-record newer-revision',
    );
    expect((await current.get()).state).toBe('committed');
  });

  it('is undone as a whole, and can be imported again after that', async () => {
    const fresh = await tryFile(engineer, 'fresh.csv', flat('Sul Test'));
    expect(await fresh.commit()).toMatchObject({ state: 'finished' });
    const open = `valid_to IS NULL AND customer_id = (SELECT id FROM customers WHERE name = 'Sul Test')`;
    expect(await count('installed_components', open)).toBe(4);
    expect(await fresh.undo()).toMatchObject({ state: 'finished' });
    expect((await fresh.get()).state).toBe('undone');
    const gone = (await engineer.get('/customers').expect(200)).body.items as Customer[];
    expect(gone.map((item) => item.name)).not.toContain('Sul Test');
    expect(await count('installed_components', open)).toBe(0);
    expect(await count('circuit_standings', `summary ->> 'customerName' = 'Sul Test'`)).toBe(0);
    const again = await tryFile(engineer, 'fresh.csv', flat('Sul Test'));
    expect((await again.get()).counts?.rows).toEqual({ created: 4, changed: 0, unchanged: 0, refused: 0 });
    expect(await again.commit()).toMatchObject({ state: 'finished', result: { circuits: 2 } });
    expect(await count('installed_components', open)).toBe(4);
  });

  it('changes a record and puts it back, field by field', async () => {
    const file = csv('Customer;Trade;Contact', 'Norte Test;gearboxes;A. Person');
    const change = await tryFile(engineer, 'customers.csv', file);
    expect((await change.rows())[0]).toMatchObject({ outcome: 'changed' });
    await change.commit();
    const named = `name = 'Norte Test' AND trade = 'gearboxes'`;
    expect(await count('customers', named)).toBe(1);
    await change.undo();
    expect(await count('customers', named)).toBe(0);
    expect(await count('customers', `name = 'Norte Test' AND trade = '' AND contact_name = ''`)).toBe(1);
  });

  it('refuses to commit with refused rows unless they are left out; they can be downloaded with the reason', async () => {
    const file = csv(
      'Customer;Site;Place;Time zone;Note',
      'Leste Test;Hall 1;Porto;Europe/Lisbon;=1+1',
      'Leste Test;Hall 2;Porto;Mars/Base;-',
      'Leste Test;Hall 3;;;@risky',
    );
    const some = await tryFile(engineer, 'sites.csv', file, (mapping) => {
      const note = mapping.sheets[0]?.columns[4];
      if (note !== undefined) note.field = 'site.note';
    });
    expect(await some.findings()).toEqual(['D3 time-zone', 'row 4 missing']);
    await engineer.post(`/imports/${some.id}/commit`).expect(409);
    const download = await engineer.get(`/imports/${some.id}/refused-rows?format=csv`).expect(200);
    expect(download.headers['content-type']).toContain('text/csv');
    const text = download.text;
    expect(text).toContain(`'@risky`);
    expect(text).toContain('“Mars/Base” is no time zone');
    // What was downloaded reads back as it was, and the reason is no field.
    const back = await ImportClient.begin(engineer, 'sites-refused.csv');
    await back.send(Buffer.from(text));
    expect((await back.get()).reading?.sheets[0]?.columns[4]?.samples).toContain('@risky');
    expect(await some.commit({ withoutRefused: true })).toMatchObject({ state: 'finished' });
    expect(await count('sites', `name LIKE 'Hall%' AND note = '=1+1'`)).toBe(1);
    expect(await count('sites', `name IN ('Hall 2', 'Hall 3')`)).toBe(0);
  });

  it('does not commit what is no longer so', async () => {
    const file = csv('Customer;Trade', 'Norte Test;pumps');
    const stale = await tryFile(engineer, 'customers.csv', file);
    await client.query(`UPDATE customers SET trade = 'valves', version = version + 1 WHERE name = 'Norte Test'`);
    expect(await stale.commit()).toMatchObject({ state: 'failed', problem: { code: 'import.changed' } });
    expect((await stale.get()).state).toBe('checked');
    expect(await count('customers', `name = 'Norte Test' AND trade = 'valves'`)).toBe(1);
  });

  it('is not for an installer', async () => {
    const installer = await api.as(home.emails.installer);
    await installer.get('/imports').expect(403);
  });

  it('an exchange ends the component before it', async () => {
    const file = csv(
      'Customer;Site;Machine;Circuit;Designation;Component type;Serial;Installed from',
      'Sul Test;Hall 1;MC 7;Clamp A;H1.A;X-HOSE-6;0099;2026-02-01',
    );
    const exchange = await tryFile(engineer, 'exchange.csv', file);
    expect(await exchange.findings()).toEqual([]);
    expect(await exchange.commit()).toMatchObject({ state: 'finished' });
    const { rows } = await client.query(
      `SELECT serial, valid_to IS NULL AS open FROM installed_components
       WHERE designation = 'H1.A' AND customer_id = (SELECT id FROM customers WHERE name = 'Sul Test')
         AND (valid_to IS NULL OR valid_to > valid_from + interval '1 second') ORDER BY valid_from`,
    );
    expect(rows).toEqual([
      { serial: '0071', open: false },
      { serial: '0099', open: true },
    ]);
    expect(await exchange.undo()).toMatchObject({ state: 'finished' });
    expect(await count('installed_components', `designation = 'H1.A' AND serial = '0071' AND valid_to IS NULL`)).toBe(
      2,
    );
  });

  it('gives templates that read back as what they are for', async () => {
    for (const entity of ['machine', 'setup-record', 'installed-component']) {
      const csvFile = await engineer.get(`/import-templates?entity=${entity}&format=csv`).expect(200);
      const filled = `${csvFile.text.trim()}\r\n${'x,'.repeat(5)}\r\n`;
      const back = await ImportClient.begin(engineer, `${entity}.csv`);
      await back.send(Buffer.from(filled));
      const { mapping } = await back.get();
      const columns = mapping?.sheets[0]?.columns ?? [];
      expect(columns.filter((column) => column.field === null)).toEqual([]);
      await engineer.get(`/import-templates?entity=${entity}&format=xlsx`).expect(200);
    }
  });
});
