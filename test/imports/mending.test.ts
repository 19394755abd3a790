import ExcelJS from 'exceljs';
import type { ImportMapping } from '@repo/contracts';
import { anOrganisation } from '../builders/world.js';
import { binary, startApi, type TestApi, type TestClient } from '../support/api.js';
import { ImportClient, tryFile } from './support/import-client.js';

let api: TestApi;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  const home = await anOrganisation(api, 'Mending');
  engineer = await api.as(home.emails.engineer);
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const fieldsOf = (mapping: ImportMapping | null): (string | null)[] =>
  mapping?.sheets[0]?.columns.map(({ field }) => field) ?? [];
const sheetOf = (mapping: ImportMapping): ImportMapping['sheets'][number] => {
  const [sheet] = mapping.sheets;
  if (sheet === undefined) throw new Error('the mapping has no sheet');
  return sheet;
};

function setFields(sheet: ImportMapping['sheets'][number] | undefined, fields: readonly string[]): void {
  fields.forEach((field, index) => {
    const column = sheet?.columns[index];
    if (column !== undefined) column.field = field;
  });
}

describe('Headings that were looked for in the wrong row', () => {
  // The group names above look more like headings than the headings do.
  const file = (...rows: string[]): string => csv('Customer;Site;Place;Time zone', 'Firm;Works;Town;Clock', ...rows);
  const FIELDS = ['customer.name', 'site.name', 'site.place', 'site.timeZone'];

  it('are put right, and their columns suggested anew', async () => {
    const upload = await ImportClient.begin(engineer, 'grouped.csv');
    await upload.send(Buffer.from(file('Norte Test;Hall 1;Braga;Europe/Lisbon')));
    const before = await upload.get();
    expect(before.reading?.sheets[0]).toMatchObject({ headerRow: 1, rows: 2 });
    const moved = await upload.map((mapping) => {
      sheetOf(mapping).headerRow = 2;
    });
    expect(moved.reading?.sheets[0]).toMatchObject({ headerRow: 2, rows: 1 });
    expect(moved.reading?.sheets[0]?.columns.map(({ header }) => header)).toEqual(['Firm', 'Works', 'Town', 'Clock']);
    // What was said of a column was said of another heading.
    expect(fieldsOf(moved.mapping)).not.toEqual(FIELDS);
    await upload.map((mapping) => {
      const sheet = sheetOf(mapping);
      sheet.use = true;
      sheet.columns.forEach((column, index) => (column.field = FIELDS[index] ?? null));
    });
    await upload.check();
    expect(await upload.findings()).toEqual([]);
    expect((await upload.get()).counts?.rows).toMatchObject({ created: 1, refused: 0 });
  });

  it('are found there again in the next such file', async () => {
    const next = await ImportClient.begin(engineer, 'grouped, mended.csv');
    await next.send(
      Buffer.from(file('Norte Test;Hall 2;Braga;Europe/Lisbon', 'Norte Test;Hall 3;Porto;Europe/Lisbon')),
    );
    const { reading, mapping, isRemembered } = await next.get();
    expect(reading?.sheets[0]).toMatchObject({ headerRow: 2, rows: 2 });
    expect(fieldsOf(mapping)).toEqual(FIELDS);
    expect(isRemembered).toBe(true);
  });

  it('but not where other headings stand in that row', async () => {
    const other = await ImportClient.begin(engineer, 'plain.csv');
    await other.send(Buffer.from(csv('Customer;Site;Place;Time zone', 'Sul Test;Hall 1;Faro;Europe/Lisbon')));
    expect((await other.get()).reading?.sheets[0]).toMatchObject({ headerRow: 1, rows: 1 });
  });
});

describe('Columns that were only suggested', () => {
  const list = (name: string): Buffer =>
    Buffer.from(csv('Customer;Site;Place;Time zone;Remarks', `${name};Hall 1;Faro;Europe/Lisbon;a`));
  const isKnown = async (name: string): Promise<boolean> => {
    const next = await ImportClient.begin(engineer, 'next.csv');
    await next.send(list(name));
    return (await next.get()).isRemembered;
  };

  it('are nobody’s word while they were only tried; those that were written are', async () => {
    const tried = await tryFile(engineer, 'suggested.csv', list('Foz Test'));
    expect(await isKnown('Foz Test')).toBe(false);
    expect(await tried.commit()).toMatchObject({ state: 'finished' });
    expect(await isKnown('Foz Test')).toBe(true);
  });

  it('are known once somebody changed and tried them, back to what was suggested too', async () => {
    const text = csv('Customer;Site;Place;Time zone;Remarks;City', 'Ria Test;Hall 1;Faro;Europe/Lisbon;a;b');
    const say = (field: string | null) => (mapping: ImportMapping) => {
      const column = sheetOf(mapping).columns[4];
      if (column !== undefined) column.field = field;
    };
    const recall = async (): Promise<ImportClient> => {
      const next = await ImportClient.begin(engineer, 'next.csv');
      await next.send(Buffer.from(text));
      return next;
    };
    await tryFile(engineer, 'changed.csv', text, say('site.note'));
    const again = await recall();
    expect(fieldsOf((await again.get()).mapping)[4]).toBe('site.note');
    await again.map(say(null));
    await again.check();
    const last = await (await recall()).get();
    expect([last.isRemembered, fieldsOf(last.mapping)[4]]).toEqual([true, null]);
  });
});

describe('Rows that were refused', () => {
  const HEADINGS = 'Customer;Site;Place;Zone;Remarks';
  const SITE_FIELDS = ['customer.name', 'site.name', 'site.place', 'site.timeZone', 'site.note'];

  it('come back mended under the columns as they were set, each with all that it held', async () => {
    const first = await tryFile(
      engineer,
      'sites.csv',
      csv(HEADINGS, 'Mar Test;Quay 1;Porto;Europe/Lisbon;a', 'Mar Test;Quay 2;Porto;Nowhere/Else;b'),
      (mapping) => {
        setFields(sheetOf(mapping), SITE_FIELDS);
      },
    );
    expect((await first.findings()).length).toBe(1);
    expect(await first.commit({ withoutRefused: true })).toMatchObject({ state: 'finished' });
    const { text } = await engineer.get(`/imports/${first.id}/refused-rows?format=csv`).expect(200);
    expect(text).toContain('Why refused');
    expect(text).toContain('Quay 2');
    expect(text).not.toContain('Quay 1');
    const again = await ImportClient.begin(engineer, 'sites-refused.csv');
    await again.send(Buffer.from(text.replace('Nowhere/Else', 'Europe/Lisbon')));
    const { mapping, isRemembered } = await again.get();
    expect(isRemembered).toBe(true);
    expect(fieldsOf(mapping)).toEqual(['customer.name', 'site.name', 'site.place', 'site.timeZone', 'site.note']);
    await again.check();
    expect(await again.findings()).toEqual([]);
    expect((await again.get()).counts?.rows).toMatchObject({ created: 1, refused: 0 });
  });

  it('of one sheet among several come back as a workbook that is known as a whole', async () => {
    const book = new ExcelJS.Workbook();
    book.addWorksheet('Works').addRows([HEADINGS.split(';'), ['Rio Test', 'Dock 1', 'Porto', 'Europe/Lisbon', 'a']]);
    const machines = ['Customer', 'Site', 'Machine', 'Kind', 'Way in', 'Station'];
    book
      .addWorksheet('Machines')
      .addRows([
        machines,
        ['Rio Test', 'Dock 1', 'MC 1', 'pallets', 'direct', 'Pallet 1'],
        ['Rio Test', 'Dock 1', 'MC 2', 'sideways', 'direct', 'Pallet 1'],
      ]);
    const fields = ['customer.name', 'site.name', 'machine.name', 'machine.form', 'machine.wayIn', 'station.name'];
    const first = await tryFile(engineer, 'base.xlsx', Buffer.from(await book.xlsx.writeBuffer()), (mapping) => {
      const [works, others] = mapping.sheets;
      setFields(works, SITE_FIELDS);
      setFields(others, fields);
    });
    expect((await first.get()).counts?.rows).toMatchObject({ created: 2, refused: 1 });
    expect(await first.commit({ withoutRefused: true })).toMatchObject({ state: 'finished' });
    const { body } = await binary(engineer.get(`/imports/${first.id}/refused-rows?format=xlsx`)).expect(200);
    const list = new ExcelJS.Workbook();
    await list.xlsx.load(new Uint8Array(body as Buffer).buffer);
    expect(list.worksheets.map(({ name, rowCount }) => [name, rowCount])).toEqual([
      ['Works', 1],
      ['Machines', 2],
    ]);
    list.getWorksheet('Machines')?.eachRow((row) =>
      row.eachCell((cell) => {
        if (cell.value === 'sideways') cell.value = 'pallets';
      }),
    );
    const again = await ImportClient.begin(engineer, 'base-refused.xlsx');
    await again.send(Buffer.from(await list.xlsx.writeBuffer()));
    const { mapping, isRemembered } = await again.get();
    expect(isRemembered).toBe(true);
    expect(mapping?.sheets[1]?.columns.slice(0, 6).map(({ field }) => field)).toEqual(fields);
    await again.check();
    expect(await again.findings()).toEqual([]);
    expect((await again.get()).counts?.rows).toMatchObject({ created: 1, refused: 0 });
  });

  it('keep a reason of their own beside why they were refused', async () => {
    const settings = await tryFile(
      engineer,
      'settings.csv',
      csv(
        'Customer;Site;Machine;Circuit;Setting;Measured at;Measured by;Report;Reason',
        'Mar Test;Quay 1;MC 1;Clamp A;180 bar;2026-01-05;R. Test;R-9;after the winter',
      ),
    );
    expect((await settings.findings()).length).toBeGreaterThan(0);
    const { text } = await engineer.get(`/imports/${settings.id}/refused-rows?format=csv`).expect(200);
    expect(text).toContain('Reason');
    expect(text).toContain('after the winter');
    expect(text).toContain('Why refused');
  });

  it.each(['a:b?[c]*/\\.csv', "'quoted'", 'History', `${'x'.repeat(30)}\u{1F600}.csv`])(
    'come as a workbook whatever the file is called: %j',
    async (fileName) => {
      const upload = await tryFile(engineer, fileName, csv('Customer,Contact e-mail', 'Vale Test,nobody'));
      expect((await upload.get()).counts?.rows).toMatchObject({ refused: 1 });
      const { body } = await binary(engineer.get(`/imports/${upload.id}/refused-rows?format=xlsx`).expect(200));
      const book = new ExcelJS.Workbook();
      await book.xlsx.load(body as ArrayBuffer);
      expect(book.worksheets[0]?.getRow(2).getCell(2).value).toBe('nobody');
    },
  );
});
