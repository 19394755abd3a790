import ExcelJS from 'exceljs';
import type { Job } from '@repo/contracts';
import { EXPORT_TABLE_NAMES, EXPORT_TABLES } from '@repo/contracts';
import { setTimeout as delay } from 'node:timers/promises';
import { uuidv7 } from 'uuidv7';
import {
  aCircuit,
  addPerson,
  anOrganisation,
  asSuperuser,
  type CircuitWorld,
  type Organisation,
} from '../builders/world.js';
import { binary, startApi, type TestApi, type TestClient } from '../support/api.js';
import { aBody, aGateway, anHour } from '../support/gateway.js';

let api: TestApi;
let home: Organisation;
let away: Organisation;
let engineer: TestClient;
let administrator: TestClient;
let viewer: TestClient;
let ownWorld: CircuitWorld;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  home = await anOrganisation(api, 'Home');
  away = await anOrganisation(api, 'Away');
  engineer = await api.as(home.emails.engineer);
  administrator = await api.as(home.emails.administrator);
  ownWorld = await aCircuit(engineer, 'W');
  await aCircuit(engineer, 'N');
  await aCircuit(await api.as(away.emails.engineer), 'T');
  await addPerson(api, home, 'viewer', 'viewer', ownWorld.customerId);
  viewer = await api.as(home.emails.viewer);
});
afterAll(() => api.stop());

const csv = async (client: TestClient, table: string, query = ''): Promise<string[][]> => {
  const response = await binary(client.get(`/exports/${table}?format=csv${query}`)).expect(200);
  expect(response.headers['content-type']).toBe('text/csv; charset=utf-8');
  return parseCsv((response.body as Buffer).toString('utf8'));
};

/** RFC 4180, read apart from the product's own reader. */
function parseCsv(text: string): string[][] {
  expect(text.charCodeAt(0)).toBe(0xfeff);
  const rows: string[][] = [[]];
  let cell = '';
  let isQuoted = false;
  for (let at = 1; at < text.length; at += 1) {
    const letter = text[at] ?? '';
    if (isQuoted) {
      if (letter !== '"') cell += letter;
      else if (text[at + 1] === '"') {
        cell += '"';
        at += 1;
      } else isQuoted = false;
    } else if (letter === '"') isQuoted = true;
    else if (letter === ',') {
      rows.at(-1)?.push(cell);
      cell = '';
    } else if (letter === '\n') {
      rows.at(-1)?.push(cell.replace(/\r$/, ''));
      rows.push([]);
      cell = '';
    } else cell += letter;
  }
  return rows.slice(0, -1);
}

const xlsx = async (client: TestClient, table: string, query = ''): Promise<ExcelJS.Worksheet> => {
  const response = await binary(client.get(`/exports/${table}?format=xlsx${query}`)).expect(200);
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(new Uint8Array(response.body as Buffer).buffer);
  const [sheet] = workbook.worksheets;
  if (sheet === undefined) throw new Error('no sheet');
  return sheet;
};

const cellsOf = (sheet: ExcelJS.Worksheet, row: number): unknown[] => (sheet.getRow(row).values as unknown[]).slice(1);

async function finished(client: TestClient, id: string, within = 60_000): Promise<Job> {
  const end = Date.now() + within;
  while (Date.now() < end) {
    const { body } = (await client.get(`/jobs/${id}`).expect(200)) as { body: Job };
    if (!['queued', 'running'].includes(body.state)) return body;
    await delay(100);
  }
  throw new Error(`the job ${id} does not end`);
}

describe('an export', () => {
  it('gives every table to every role that sees it as a list, as CSV and as a workbook; to the others it is not there', async () => {
    for (const role of ['engineer', 'installer', 'lead', 'administrator', 'viewer'] as const) {
      const client = await api.as(home.emails[role]);
      for (const table of EXPORT_TABLE_NAMES) {
        const maySee = (EXPORT_TABLES[table].access as readonly string[]).includes(role);
        const response = await binary(client.get(`/exports/${table}?format=csv`));
        expect([role, table, response.status]).toEqual([role, table, maySee ? 200 : 404]);
        if (role === 'engineer') expect([table, (await xlsx(client, table)).rowCount > 0]).toEqual([table, true]);
      }
    }
    await api.as().then((stranger) => stranger.get('/exports/customers').expect(401));
  }, 120_000);

  it("a customer's viewer takes away what is theirs alone, nobody what is another organisation's", async () => {
    for (const table of [
      'customers',
      'sites',
      'machines',
      'circuits',
      'setup-records',
      'target-settings',
      'fixtures',
    ]) {
      const [header, ...rows] = await csv(viewer, table);
      const at = header?.indexOf('Customer') ?? -1;
      expect([table, rows.map((row) => row[at])]).toEqual([table, rows.map(() => 'Customer W')]);
      expect([table, rows.length]).toEqual([table, 1]);
      const mine = await csv(engineer, table);
      expect([table, new Set(mine.slice(1).map((row) => row[at]))]).toEqual([
        table,
        new Set(['Customer W', 'Customer N']),
      ]);
    }
  });

  it('numbers are numbers in the unit chosen, which the heading says; days and times are real ones', async () => {
    const { body } = await engineer.get(`/setup-records?circuitId=${ownWorld.circuitId}`).expect(200);
    const record = (body as { items: { setting: { value: number; unit: string }; measuredAt: string }[] }).items[0];
    if (record === undefined) throw new Error('no record');
    const sheet = await xlsx(viewer, 'setup-records', '&pressureUnit=bar');
    const header = cellsOf(sheet, 1).map(String);
    const row = cellsOf(sheet, 2);
    const setting = row[header.indexOf('Setting [bar]')];
    expect([typeof setting, setting]).toEqual(['number', record.setting.value]);
    const inPsi = await xlsx(viewer, 'setup-records', '&pressureUnit=[psi]');
    const psi = cellsOf(inPsi, 2)[cellsOf(inPsi, 1).indexOf('Setting [psi]')];
    // 1 psi = 4.4482216152605 N over a square inch of 645.16 mm², both by definition.
    expect(Number(psi)).toBeCloseTo((record.setting.value * 1e5) / (4.4482216152605 / 0.00064516), 6);
    const [names, first] = await csv(viewer, 'setup-records');
    expect(first?.[names?.indexOf('Measured at') ?? -1]).toBe(new Date(record.measuredAt).toISOString());
    const machines = await xlsx(engineer, 'circuit-standings');
    const computed = cellsOf(machines, 2)[cellsOf(machines, 1).indexOf('Computed at [UTC]')];
    expect(computed).toBeInstanceOf(Date);
  });

  it('no text can be taken for a formula', async () => {
    const nasty = ['=1+1', '+351 910', '-5', '@SUM(A1)', '\t=cmd', "'=quoted", 'a,"b"\nc; d'];
    for (const [index, name] of nasty.entries()) {
      await administrator
        .post('/customers', { id: uuidv7(), name: `N${index}`, note: name.trim() === name ? name : `x${name}` })
        .expect(201);
    }
    const [header, ...rows] = await csv(engineer, 'customers');
    const at = header?.indexOf('Customer note') ?? -1;
    const notes = rows.filter((row) => /^N\d$/.test(row[0] ?? '')).map((row) => row[at] ?? '');
    expect(notes).toHaveLength(nasty.length);
    for (const note of notes) expect(note).not.toMatch(/^[=+\-@\t]/);
    expect(notes).toContain('a,"b"\nc; d');
    const sheet = await xlsx(engineer, 'customers');
    sheet.eachRow((row) =>
      row.eachCell((cell) => {
        expect(cell.formula).toBeUndefined();
        expect(String(cell.value)).not.toMatch(/^[=+\-@\t]/);
      }),
    );
  });

  it('reads back unchanged through the import, as CSV and as a workbook, in any unit', async () => {
    const upload = async (bytes: Buffer, fileName: string): Promise<{ counts: unknown; rows: unknown }> => {
      const id = uuidv7();
      await engineer.post('/imports', { id, fileName }).expect(201);
      const sent = await engineer
        .call('POST', `/imports/${id}/file`, { 'content-type': 'application/octet-stream' })
        .send(bytes)
        .expect(202);
      expect(await finished(engineer, (sent.body as Job).id)).toMatchObject({ state: 'finished' });
      const checking = await engineer.post(`/imports/${id}/check`).expect(202);
      expect(await finished(engineer, (checking.body as Job).id)).toMatchObject({ state: 'finished' });
      const { body } = (await engineer.get(`/imports/${id}`).expect(200)) as { body: { counts: { rows: unknown } } };
      const rows = (await engineer.get(`/imports/${id}/rows`).expect(200)) as { body: { items: unknown } };
      return { counts: body.counts.rows, rows: rows.body.items };
    };
    const importable = EXPORT_TABLE_NAMES.filter((table) => 'entity' in EXPORT_TABLES[table]);
    expect(importable).toHaveLength(17);
    for (const table of importable) {
      for (const [format, unit] of [
        ['csv', 'bar'],
        ['xlsx', '[psi]'],
      ] as const) {
        const { body } = await binary(engineer.get(`/exports/${table}?format=${format}&pressureUnit=${unit}`)).expect(
          200,
        );
        const { counts, rows } = await upload(body as Buffer, `${table}.${format}`);
        const changed = (rows as { outcome: string }[]).filter(({ outcome }) => outcome !== 'unchanged');
        expect([table, format, changed]).toEqual([table, format, []]);
        expect([table, counts]).toEqual([
          table,
          { created: 0, changed: 0, refused: 0, unchanged: (rows as unknown[]).length },
        ]);
        expect((rows as unknown[]).length).toBeGreaterThan(0);
      }
    }
  }, 240_000);

  it('names the pieces of a fixture one by one, with their figures as typed', async () => {
    const id = uuidv7();
    const clamp = {
      id: uuidv7(),
      kind: 'clamp',
      name: 'Swing clamp',
      quantity: 4,
      bore: { value: 32, unit: 'mm' },
      ratedForce: { value: 4.5, unit: 'kN' },
    };
    const locator = { id: uuidv7(), kind: 'locator', name: 'Pin', quantity: 2 };
    const fixture = { id, customerId: ownWorld.customerId, name: 'With pieces', elements: [clamp, locator] };
    await engineer.post('/fixtures', fixture).expect(201);
    const [header = [], ...rows] = await csv(engineer, 'fixture-elements');
    const pieces = rows.filter((row) => row[header.indexOf('Fixture')] === 'With pieces');
    const valuesOf = (name: string): string[] =>
      pieces.map((row) => row[header.findIndex((one) => one === name || one.startsWith(`${name} [`))] ?? '');
    expect(valuesOf('Element')).toEqual(['Swing clamp', 'Pin']);
    expect(valuesOf('Element: quantity')).toEqual(['4', '2']);
    expect(header).toContain('Element: bore [mm]');
    expect(valuesOf('Element: bore')).toEqual(['32', '']);
    const force = header.find((one) => one.startsWith('Element: rated force')) ?? '';
    expect(valuesOf('Element: rated force').map(Number)).toEqual([force.includes('kN') ? 4.5 : 4_500, 0]);
  });

  it('tells what a gateway sent, and which machines it names', async () => {
    const gateway = await aGateway(api, administrator, { 'M-1': ownWorld.machineId });
    await gateway.send(aBody('M-1', [anHour('nowhere', 3)]), { id: 'msg_exported' }).expect(200);
    const [names = [], ...references] = await csv(engineer, 'source-machines');
    expect(references.map((row) => row[names.indexOf('External reference')])).toEqual(['M-1']);
    const [header = [], ...deliveries] = await csv(engineer, 'deliveries');
    const [delivery = []] = deliveries;
    expect(deliveries).toHaveLength(1);
    expect(delivery[header.indexOf('Webhook id')]).toBe('msg_exported');
    expect(['Intervals taken in', 'Set aside'].map((name) => delivery[header.indexOf(name)])).toEqual(['0', '1']);
  });

  it('is written down in the audit trail', async () => {
    await csv(viewer, 'machines');
    const { body } = await engineer.get('/audit-entries?entity=export').expect(200);
    const found = (body as { items: { actorName: string; changes: object }[] }).items[0];
    expect(found).toMatchObject({ actorName: 'Test viewer', changes: { table: 'machines', format: 'csv', rows: 1 } });
  });
});

describe('a large export', () => {
  const ROWS = 60_000;

  beforeAll(async () => {
    await asSuperuser(api, (client) =>
      client.query(
        `INSERT INTO audit_entries (organisation_id, id, actor_name, action, entity, entity_id, changes, at)
         SELECT $1, gen_random_uuid(), 'Somebody', 'change', 'circuit', gen_random_uuid(),
           jsonb_build_object('note', repeat('n', 200), 'number', n), now() - n * interval '1 second'
         FROM generate_series(1, ${ROWS}) AS n`,
        [home.id],
      ),
    );
  }, 120_000);

  it('is not answered at once, but in the background: all rows once, part by part, for those who see the table', async () => {
    const refused = await engineer.get('/exports/audit-entries?format=csv').expect(409);
    expect(refused.body).toMatchObject({ code: 'export.too-large' });
    const started = await engineer.post('/exports', { table: 'audit-entries', format: 'csv' }).expect(202);
    const { id } = started.body as Job;
    expect(started.headers.location).toBe(`/api/v1/jobs/${id}`);
    const job = await finished(engineer, id, 120_000);
    expect(job).toMatchObject({ state: 'finished', kind: 'export', result: { table: 'audit-entries' } });
    const { rows, bytes, parts } = job.result as { rows: number; bytes: number; parts: number };
    expect(bytes).toBeGreaterThan(20_000_000);
    expect(parts).toBeGreaterThan(15);
    const file = await binary(engineer.get(`/export-files/${id}`)).expect(200);
    expect(file.headers['content-disposition']).toMatch(/kedge-audit-entries-.*\.csv/);
    const lines = parseCsv((file.body as Buffer).toString('utf8'));
    expect((file.body as Buffer).length).toBe(bytes);
    expect(lines).toHaveLength(rows + 1);
    const at = lines[0]?.indexOf('Id') ?? -1;
    expect(new Set(lines.slice(1).map((line) => line[at])).size).toBe(rows);
    expect(rows).toBeGreaterThanOrEqual(ROWS);
    const installer = await api.as(home.emails.installer);
    await installer.get(`/export-files/${id}`).expect(404);
    await (await api.as(away.emails.engineer)).get(`/export-files/${id}`).expect(404);
    await viewer.get(`/export-files/${id}`).expect(403);
    await installer.post('/exports', { table: 'audit-entries' }).expect(404);
  }, 240_000);

  it('as a workbook it is the same rows, and a file that is too old is gone', async () => {
    const started = await engineer.post('/exports', { table: 'audit-entries', format: 'xlsx' }).expect(202);
    const { id } = started.body as Job;
    const job = await finished(engineer, id, 180_000);
    expect(job).toMatchObject({ state: 'finished' });
    const file = await binary(engineer.get(`/export-files/${id}`)).expect(200);
    const reader = new ExcelJS.stream.xlsx.WorkbookReader(
      (await import('node:stream')).Readable.from([file.body as Buffer]),
      {},
    );
    let rows = 0;
    for await (const sheet of reader) for await (const _row of sheet) rows += 1;
    expect(rows).toBe((job.result as { rows: number }).rows + 1);
    await asSuperuser(api, (client) =>
      client.query("UPDATE jobs SET finished_at = now() - interval '8 days' WHERE id = $1", [id]),
    );
    const gone = await engineer.get(`/export-files/${id}`).expect(409);
    expect(gone.body).toMatchObject({ code: 'export.no-file' });
  }, 240_000);
});

describe('The export of alarm counts', () => {
  it('has a column for each kind of alarm', async () => {
    const gateway = await aGateway(api, administrator, { 'M-kinds': ownWorld.machineId });
    const body = aBody('M-kinds', [
      anHour(ownWorld.circuitId, 600, { alarms: { 'low-air': 3 } }),
      anHour(ownWorld.circuitId, 599, { alarms: { 'clamp.late': 2, 'low-air': 1 } }),
      anHour(ownWorld.circuitId, 598),
    ]);
    await gateway.send(body).expect(200);
    const [headings = [], ...rows] = await csv(engineer, 'alarm-counts');
    const counted = rows.filter((row) => row.includes(ownWorld.circuitId));
    const column = (name: string): (string | undefined)[] => counted.map((row) => row[headings.indexOf(name)]);
    expect(column('Alarms: low-air').slice(0, 3)).toEqual(['3', '1', '']);
    expect(column('Alarms: clamp.late').slice(0, 3)).toEqual(['', '2', '']);
    const sheet = await xlsx(engineer, 'alarm-counts');
    expect(JSON.stringify(sheet.getRow(1).values)).toContain('Alarms: clamp.late');
  });
});
