import ExcelJS from 'exceljs';
import type { ImportMapping } from '@repo/contracts';
import { anOrganisation, type Organisation } from '../builders/world.js';
import { startApi, type TestApi, type TestClient } from '../support/api.js';
import { ImportClient, tryFile } from './support/import-client.js';

let api: TestApi;
let home: Organisation;
let engineer: TestClient;

beforeAll(async () => {
  api = await startApi({ WORKER: 'inside' });
  home = await anOrganisation(api, 'Reading');
  engineer = await api.as(home.emails.engineer);
});
afterAll(() => api.stop());

const csv = (...lines: string[]): string => `${lines.join('\r\n')}\r\n`;
const columnsOf = (mapping: ImportMapping) => mapping.sheets[0]?.columns ?? [];
const PLACE = 'Braga;Europe/Lisbon';
const UNITS = 'Customer;Site;Place;Time zone;Machine;Form;Way in;Stations;Power unit;Drive';
const unit = (customer: string): string => `${customer};Hall;${PLACE};MC;pallets;direct;A, B;HPU;air`;

/** Every value that would be written: `field = value`. */
const written = async (upload: ImportClient): Promise<string[]> =>
  (await upload.rows()).flatMap((row) =>
    row.records.flatMap((record) => record.changes.map((change) => `${change.field} = ${change.to}`)),
  );

describe('a zero byte', () => {
  const SITES = 'Customer;Site;Place;Time zone';
  const site = (customer: string): string => `${customer};Hall;${PLACE}`;
  const book = async (): Promise<Uint8Array> => {
    const workbook = new ExcelJS.Workbook();
    workbook.addWorksheet('Sites').addRows([SITES.split(';'), site('Zero_x0000_').split(';')]);
    return new Uint8Array(await workbook.xlsx.writeBuffer());
  };

  it.each([
    [
      'far behind what tells the encoding',
      'far.csv',
      302,
      () => Buffer.from(csv(SITES, ...Array.from({ length: 300 }, (_, n) => site(`Far ${n}`)), site('Far \0'))),
    ],
    [
      'among two bytes for each character',
      'wide.csv',
      2,
      () => Buffer.from(`\ufeff${csv(SITES, site('Wide \0'))}`, 'utf16le'),
    ],
    ['that a workbook writes as an escape', 'escape.xlsx', 2, book],
  ])('%s makes a file that cannot be read, and its line is said', async (_where, fileName, line, bytes) => {
    const upload = await ImportClient.begin(engineer, fileName);
    const read = await upload.send(await bytes());
    expect(read).toMatchObject({ state: 'failed', problem: { code: 'import.unreadable' } });
    expect(read.problem?.errors?.[0]).toMatchObject({ code: 'zero-byte' });
    expect(JSON.stringify(read.problem)).toContain(`${line}`);
    expect((await upload.get()).state).toBe('unreadable');
  });
});

describe('a day', () => {
  it('that begins in the year 1899 by the clock of UTC is refused by its cell, as at the door', async () => {
    const upload = await tryFile(
      engineer,
      'early.csv',
      csv(
        'Customer;Site;Place;Time zone;Machine;Form;Way in;Stations;Power unit;Drive;Circuit;Setting [bar];Measured at;Measured by;Report;Reason',
        'Early;Hall;Nagoya;Asia/Tokyo;MC;pallets;direct;A, B;HPU;air;A;175;1900-01-01;M;R;look',
      ),
    );
    expect(await upload.findings()).toContain('M2 no-such-date');
  });
});

describe('a separator that groups or is a decimal sign', () => {
  const file = csv(
    `${UNITS};Plant air, lowest;Plant air, highest;Latitude`,
    `${unit('Sign Test')};1.500 psi;2,500 psi;41.550`,
  );

  it('is asked once for the file, with an example and both its readings', async () => {
    const upload = await ImportClient.begin(engineer, 'sign.csv');
    await upload.send(Buffer.from(file));
    const { questions } = await upload.get();
    expect(questions).toMatchObject([
      {
        kind: 'decimal-sign',
        letter: 'K',
        examples: ['1.500 psi', '2,500 psi'],
        readings: { point: '1.5 psi', comma: '1500 psi' },
      },
    ]);
    await engineer.post(`/imports/${upload.id}/check`).expect(422);
    await engineer.post(`/imports/${upload.id}/commit`).expect(409);
  });

  it.each([
    ['point', '1.500 psi', '2500 psi'],
    ['comma', '1500 psi', '2.500 psi'],
  ] as const)('is read by the answer: a %s', async (decimal, lowest, highest) => {
    const upload = await tryFile(engineer, 'sign.csv', file, (mapping) => {
      mapping.decimal = decimal;
    });
    expect(await upload.findings()).toEqual(decimal === 'comma' ? ['K2 air-order'] : []);
    expect((await upload.get()).questions).toEqual([]);
    if (decimal === 'comma') return;
    expect(await written(upload)).toEqual(
      expect.arrayContaining([`power-unit.plantAirLow = ${lowest}`, `power-unit.plantAirHigh = ${highest}`]),
    );
  });

  it('is asked of a fixed value as well', async () => {
    const upload = await ImportClient.begin(engineer, 'fixed.csv');
    await upload.send(Buffer.from(csv(UNITS, unit('Fixed Test'))));
    const { questions } = await upload.map((mapping) => {
      mapping.sheets[0]?.constants.push({ field: 'power-unit.plantAirHigh', value: '1,500 psi' });
    });
    expect(questions).toMatchObject([{ kind: 'decimal-sign', readings: { point: '1500 psi', comma: '1.5 psi' } }]);
  });

  it('is not asked where only one reading is possible, or the column says it', async () => {
    const upload = await tryFile(
      engineer,
      'plain.csv',
      csv(
        `${UNITS};Plant air, highest;Latitude;Longitude`,
        `${unit('Plain Test')};1.234,5 psi;41.550;-8,420`,
        `${unit('Plain Test 2')};1.250 psi;12.5;-8,1`,
      ),
    );
    expect((await upload.get()).questions).toEqual([]);
    expect(await upload.findings()).toEqual([]);
    expect(await written(upload)).toEqual(
      expect.arrayContaining([
        'power-unit.plantAirHigh = 1234.5 psi',
        'power-unit.plantAirHigh = 1250 psi',
        'site.latitude = 41.55',
        'site.longitude = -8.42',
      ]),
    );
  });
});

describe('what is wrong with a row', () => {
  it('is told all at once: every cell, and every rule', async () => {
    const upload = await tryFile(
      engineer,
      'wrong.csv',
      csv(
        `${UNITS};Plant air, lowest [bar];Plant air, highest [bar];Station;Circuit;Setting [bar];Switch set point [bar];Switch reset point [bar];Gauge class;Measured at;Measured by;Report;Reason`,
        `${unit('All Test').replace('pallets', 'sideways').replace('Europe', 'Mars')};8;6;A;C;175;140;150;1.6;2024-01-01;M;R;base`,
      ),
    );
    const [row] = await upload.rows('refused');
    expect(row?.findings.map(({ code, cell }) => `${cell ?? ''} ${code}`.trim()).sort()).toEqual([
      'D2 time-zone',
      'F2 choice',
      'K2 air-order',
      'Q2 switch-order',
      'R2 both-or-neither',
    ]);
  });

  it('takes nothing from rows beside it that are right', async () => {
    const upload = await tryFile(
      engineer,
      'beside.csv',
      csv(
        'Customer;Site;Place;Time zone',
        `Beside Test;Hall;Faro;Mars/Base`,
        `Beside Test;Hall;Braga;Europe/Lisbon`,
        `Beside Test;Hall;Porto;Mars/Base`,
      ),
    );
    expect((await upload.get()).counts?.rows).toMatchObject({ created: 1, refused: 2 });
    expect(await upload.findings()).toEqual(['D2 time-zone', 'C2 contradicts', 'D4 time-zone', 'C4 contradicts']);
  });
});

describe('empty cells', () => {
  const file = csv(
    'Customer;Trade;Site;Place;Time zone',
    `Fill Test;gears;Hall 1;${PLACE}`,
    `;;Hall 2;${PLACE}`,
    `;;;Porto;Europe/Lisbon`,
    `Other Test;;Hall 9;${PLACE}`,
    `Last Test;;;${PLACE}`,
  );
  const fill =
    (...columns: number[]) =>
    (mapping: ImportMapping): void => {
      for (const index of columns) Object.assign(columnsOf(mapping)[index] ?? {}, { fillDown: true });
    };

  it('stay empty unless somebody asks', async () => {
    const upload = await tryFile(engineer, 'fill.csv', file);
    expect((await upload.get()).counts?.rows).toMatchObject({ created: 2, refused: 3 });
  });

  it('say what stands above them on request, which the trial run marks; never beyond what they belong to', async () => {
    const upload = await tryFile(engineer, 'fill.csv', file, fill(0, 1, 2));
    const rows = await upload.rows();
    expect(rows.map(({ row, outcome, filled }) => [row, outcome, filled])).toEqual([
      [2, 'created', []],
      [3, 'created', ['A3', 'B3']],
      [4, 'refused', ['A4', 'B4', 'C4']],
      [5, 'created', []],
      [6, 'refused', []],
    ]);
    // The site of one customer is not that of the next, and neither is a customer's trade.
    expect(rows[4]?.findings.map(({ code }) => code)).toEqual(['key-missing']);
    expect(await written(upload)).not.toContain('customer.trade = ');
    expect((await written(upload)).filter((one) => one === 'customer.trade = gears')).toHaveLength(1);
  });
});

describe('a row that begins like a sum', () => {
  const file = csv('Customer;Site;Place;Time zone', `Base Test;Hall;${PLACE}`, `Total Machining Test;Hall;${PLACE}`);

  it('is told, and kept once somebody says so for the file', async () => {
    const left = await tryFile(engineer, 'totals.csv', file);
    expect((await left.get()).reading?.sheets[0]?.notes.map(({ code }) => code)).toContain('totals-rows');
    expect((await left.get()).counts?.rows.created).toBe(1);
    const kept = await tryFile(engineer, 'totals.csv', file, (mapping) => {
      mapping.keepTotals = true;
    });
    expect((await kept.get()).counts?.rows.created).toBe(2);
    expect(await written(kept)).toContain('customer.name = Total Machining Test');
    // The next file is another one.
    const next = await tryFile(engineer, 'totals.csv', file);
    expect((await next.get()).mapping?.keepTotals).toBe(false);
  });

  it('is a record even where there is no other row', async () => {
    const kept = await tryFile(
      engineer,
      'total.csv',
      csv('Customer;Site;Place;Time zone', `Total Works Test;Hall;${PLACE}`),
      (mapping) => {
        mapping.keepTotals = true;
      },
    );
    expect((await kept.get()).counts?.rows.created).toBe(1);
  });
});

describe('a unit in a number format', () => {
  it('is the unit of the value, which is never asked about', async () => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet('Units');
    sheet.addRow([...UNITS.split(';'), 'Plant air, lowest', 'Plant air, highest']);
    sheet.addRow([...unit('Format Test').split(';'), 5.5, 1500]);
    sheet.addRow([...unit('Format Test 2').split(';'), 0, 1.234]);
    sheet.addRow([...unit('Format Test 3').split(';'), 5, 7]);
    sheet.getCell('K2').numFmt = '0.0" bar"';
    sheet.getCell('L2').numFmt = '#,##0\\ "psi";-0\\ "psi"';
    sheet.getCell('K3').value = { formula: '5+0.5', result: 5.5 };
    sheet.getCell('K3').numFmt = '0.0" bar"';
    sheet.getCell('L3').numFmt = '0.000 "MPa"';
    sheet.getCell('K4').numFmt = '0 "mm"';
    const upload = await tryFile(engineer, 'formats.xlsx', Buffer.from(await book.xlsx.writeBuffer()));
    expect(await upload.findings()).toEqual(['K4 unit-not-understood', 'L4 unit-missing']);
    expect(await written(upload)).toEqual(
      expect.arrayContaining([
        'power-unit.plantAirLow = 5.5 bar',
        'power-unit.plantAirHigh = 1500 psi',
        'power-unit.plantAirHigh = 1.234 MPa',
      ]),
    );
    expect((await upload.get()).reading?.sheets[0]?.notes).toContainEqual({
      code: 'number-formats',
      params: { count: 5, first: 'K2' },
    });
  });
});

describe('an administrator', () => {
  it('may import what an engineer may, settings too; by hand they stay the engineer’s', async () => {
    const administrator = await api.as(home.emails.administrator);
    const upload = await tryFile(
      administrator,
      'settings.csv',
      csv(
        `${UNITS};Station;Circuit;Target: setting;Target: reason;Setting;Measured at;Measured by;Report;Reason`,
        `${unit('Admin Test')};A;C;180 bar;as designed;180 bar;2026-01-05;R. Test;R-9;service`,
      ),
    );
    expect(await upload.findings()).toEqual([]);
    expect(await upload.commit()).toMatchObject({ state: 'finished' });
    const circuits = await administrator.get('/exports/target-settings?format=csv').expect(200);
    expect(circuits.text).toContain('Admin Test');
    expect(await upload.undo()).toMatchObject({ state: 'finished' });
    expect((await administrator.get('/exports/setup-records?format=csv').expect(200)).text).not.toContain('Admin Test');
  });
});
