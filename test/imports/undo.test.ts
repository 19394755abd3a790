import { EXPORT_TABLE_NAMES, type ExportTable } from '@repo/contracts';
import pg from 'pg';
import { uuidv7 } from 'uuidv7';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { tryFile } from './support/import-client.js';

let api: TestApi;
let home: Organisation;
let engineer: TestClient;
let client: pg.Client;

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const HEADINGS =
  'Customer;Trade;Site;Place;Time zone;Machine;Form;Way in;Station;Power unit;Drive;Circuit;Item;Component;Serial;Installed on;Fixture;Fixture fitted on;Target: setting;Target: reason;Pressure;Measured on;Measured by;Report no;Why';
interface Said {
  customer: string;
  trade: string;
  pallet: string;
  serial: string;
  installed: string;
  fixture: string;
  fitted: string;
  target: string;
  setting: string;
  report: string;
}
const BASE: Said = {
  customer: 'Norte Test',
  trade: 'gears',
  pallet: 'A',
  serial: '0071',
  installed: '2025-03-04',
  fixture: 'Fx 1',
  fitted: '2025-03-04',
  target: '200 bar',
  setting: '210 bar',
  report: 'R-1',
};
const row = (said: Partial<Said> = {}): string => {
  const s = { ...BASE, ...said };
  return `${s.customer};${s.trade};Hall 1;Braga;Europe/Lisbon;MC 7;pallets;rotary union;Pallet ${s.pallet};HPU 1;air;Clamp ${s.pallet};H1.${s.pallet};X-HOSE-6;${s.serial};${s.installed};${s.fixture};${s.fitted};${s.target};as designed;${s.setting};2025-03-05;R. Test;${s.report};installed base`;
};
const NEXT = csv(
  HEADINGS,
  // Changes a record under a name that is spelled otherwise, exchanges a component and a fixture, revises both kinds of settings.
  row({
    customer: 'NORTE  test',
    trade: 'pumps',
    serial: '0099',
    installed: '2026-02-01',
    fixture: 'Fx 2',
    fitted: '2026-02-01',
    target: '190 bar',
    setting: '195 bar',
  }),
  row({ customer: 'NORTE  test', trade: 'pumps', pallet: 'B', fixture: 'Fx 3', report: 'R-2' }),
  row({ customer: 'Sul Test', trade: 'valves', fixture: 'Fx 9' }),
);

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  home = await anOrganisation(api, 'Undo');
  engineer = await api.as(home.emails.engineer);
  client = new pg.Client({ connectionString: api.db.superuserUrl });
  await client.connect();
  await engineer
    .post('/component-types', { id: uuidv7(), kind: 'hose', name: 'Hose DN 6', partNumber: 'X-HOSE-6' })
    .expect(201);
  const base = await tryFile(engineer, 'base.csv', csv(HEADINGS, row()));
  expect(await base.findings()).toEqual([]);
  expect(await base.commit()).toMatchObject({ state: 'finished' });
});
afterAll(async () => {
  await client.end();
  await api.stop();
});

/** What keeps that an import was there, and goes on whatever is undone. */
const TRAIL: readonly ExportTable[] = ['audit-entries', 'imports', 'jobs'];

/** Every export of the organisation; when a standing was computed is no part of what it says. */
async function exportsOf(): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const table of EXPORT_TABLE_NAMES.filter((one) => !TRAIL.includes(one))) {
    const { text } = await engineer.get(`/exports/${table}?format=csv`).expect(200);
    found[table] = table === 'circuit-standings' ? text.replaceAll(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, 'then') : text;
  }
  return found;
}

const settingsOf = async (table: 'setup_records' | 'target_settings') =>
  (await client.query(`SELECT id, revision, reason FROM ${table} WHERE organisation_id = $1 ORDER BY id`, [home.id]))
    .rows;

describe('an import that is undone', () => {
  it('leaves every export as it was, byte for byte, and no reading that nobody took', async () => {
    const before = await exportsOf();
    const [records, targets] = [await settingsOf('setup_records'), await settingsOf('target_settings')];
    const next = await tryFile(engineer, 'next.csv', NEXT);
    expect(await next.findings()).toEqual([]);
    expect(await next.commit()).toMatchObject({ state: 'finished' });
    const between = await exportsOf();
    for (const table of [
      'customers',
      'machines',
      'installed-components',
      'fixture-fittings',
      'target-settings',
      'setup-records',
      'machine-placements',
    ]) {
      expect([table, between[table] === before[table]]).toEqual([table, false]);
    }
    // A record is found by its name however that is spelled, and keeps its own spelling.
    expect(between.customers).toContain('Norte Test,pumps');
    expect(await next.undo()).toMatchObject({ state: 'finished' });
    expect(await exportsOf()).toEqual(before);
    expect(await settingsOf('setup_records')).toEqual(records);
    expect(await settingsOf('target_settings')).toEqual(targets);
    const kept = await client.query(
      `SELECT entity, record::jsonb ->> 'report_name' AS report FROM undone_settings WHERE import_id = $1 ORDER BY 1, 2`,
      [next.id],
    );
    expect(kept.rows.map(({ entity, report }) => [entity, report])).toEqual([
      ['setup-record', 'R-1'],
      ['setup-record', 'R-1'],
      ['setup-record', 'R-2'],
      ['target-setting', null],
      ['target-setting', null],
      ['target-setting', null],
    ]);
  });

  it('leaves its names to others: what was undone can be made anew by hand and by file', async () => {
    const first = await tryFile(engineer, 'names.csv', csv('Customer;Trade', 'Leste Test;pumps'));
    expect(await first.commit()).toMatchObject({ state: 'finished' });
    expect(await first.undo()).toMatchObject({ state: 'finished' });
    const again = await tryFile(engineer, 'names.csv', csv('Customer', 'Leste Test'));
    expect((await again.rows())[0]).toMatchObject({ outcome: 'created' });
    const id = uuidv7();
    await engineer.post('/customers', { id, name: 'Leste Test' }).expect(201);
    // Nothing of what was undone comes back with it.
    expect((await engineer.get(`/customers/${id}`).expect(200)).body).toMatchObject({ name: 'Leste Test', trade: '' });
  });

  it('does not stand in the way of undoing what it was built on', async () => {
    const base = await tryFile(engineer, 'one.csv', csv('Customer', 'Oeste Test'));
    await base.commit();
    const upon = await tryFile(
      engineer,
      'two.csv',
      csv('Customer;Site;Place;Time zone', 'Oeste Test;Hall 1;Braga;Europe/Lisbon'),
    );
    await upon.commit();
    const refused = await base.undo();
    expect(refused).toMatchObject({ state: 'failed', problem: { code: 'import.built-upon' } });
    expect(await upon.undo()).toMatchObject({ state: 'finished' });
    expect(await base.undo()).toMatchObject({ state: 'finished' });
  });

  it('is refused whole where somebody changed something since, record by record', async () => {
    const file = csv('Customer;Trade', 'Ilha Test;a', 'Cabo Test;b', 'Foz Test;c');
    const upload = await tryFile(engineer, 'since.csv', file);
    await upload.commit();
    await client.query(
      `UPDATE customers SET note = 'mine', version = version + 1 WHERE name IN ('Ilha Test', 'Foz Test')`,
    );
    const before = await exportsOf();
    const job = await upload.undo();
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'import.built-upon' } });
    expect(job.problem?.errors?.map(({ got, code }) => `${got} ${code}`).sort()).toEqual([
      'Foz Test changed',
      'Ilha Test changed',
    ]);
    expect(await exportsOf()).toEqual(before);
  });

  it('takes settings away only while an import is taken back, and only once they are kept', async () => {
    await expect(client.query('DELETE FROM setup_records')).rejects.toThrow('setup_records is append-only');
    await expect(client.query('DELETE FROM target_settings')).rejects.toThrow('target_settings is append-only');
  });
});
