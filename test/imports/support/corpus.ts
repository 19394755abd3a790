import ExcelJS from 'exceljs';
import type { ImportMapping } from '@repo/contracts';

/** An ugly file and what must be found in it. */
export interface UglyFile {
  name: string;
  fileName: string;
  bytes: () => Promise<Uint8Array> | Uint8Array;
  change?: (mapping: ImportMapping) => void;
  notes?: string[];
  questions?: string[];
  /** `C4 code`, in the order of the file */
  findings?: string[];
  /** rows created, changed, unchanged, refused */
  rows?: [number, number, number, number];
  /** a name or value that must be among what would be written: `entity name` */
  records?: string[];
  /** it cannot be read: why */
  unreadable?: string;
}

const encode = (text: string, encoding: 'utf8' | 'utf16le' | 'latin1' = 'utf8'): Buffer => Buffer.from(text, encoding);
const swapped = (text: string): Buffer => encode(text, 'utf16le').swap16();
const lines = (...rows: string[]): string => `${rows.join('\r\n')}\r\n`;
const SITES = 'Customer;Site;Place;Time zone';
const site = (n: number | string, rest = ''): string => `Ugly ${n};Hall;Évora;Europe/Lisbon${rest}`;
const UNITS = 'Customer;Site;Place;Time zone;Machine;Form;Way in;Stations;Power unit;Drive';
const unit = (n: number | string): string => `Ugly ${n};Hall;Braga;Europe/Lisbon;MC;pallets;direct;A, B;HPU;air`;

type Fill = (sheet: ExcelJS.Worksheet, workbook: ExcelJS.Workbook) => void;
const workbook = (fill: Fill) => async (): Promise<Uint8Array> => {
  const book = new ExcelJS.Workbook();
  fill(book.addWorksheet('Sites'), book);
  return new Uint8Array(await book.xlsx.writeBuffer());
};
const HEAD = ['Customer', 'Site', 'Place', 'Time zone'];
const xlsxSite = (n: number | string): string[] => [`Ugly ${n}`, 'Hall', 'Braga', 'Europe/Lisbon'];

const answer =
  (column: number, said: Partial<ImportMapping['sheets'][number]['columns'][number]>) =>
  (mapping: ImportMapping): void => {
    const found = mapping.sheets[0]?.columns[column];
    if (found === undefined) throw new Error('no such column');
    Object.assign(found, said);
  };

export const CORPUS: UglyFile[] = [
  {
    name: 'UTF-8 with a byte order mark',
    fileName: 'a.csv',
    bytes: () => encode(`\uFEFF${lines(SITES, site(1))}`),
    notes: ['encoding-marked', 'delimiter-found'],
    rows: [1, 0, 0, 0],
    records: ['site Hall'],
  },
  {
    name: 'UTF-16, little end first, marked',
    fileName: 'a.csv',
    bytes: () => encode(`\uFEFF${lines(SITES, site(2))}`, 'utf16le'),
    notes: ['encoding-marked', 'delimiter-found'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'UTF-16, big end first, marked',
    fileName: 'a.csv',
    bytes: () => swapped(`\uFEFF${lines(SITES, site(3))}`),
    notes: ['encoding-marked', 'delimiter-found'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'UTF-16 without a mark',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, 'Ugly 4;Hall;Braga;Europe/Lisbon'), 'utf16le'),
    notes: ['encoding-assumed', 'delimiter-found'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'Windows-1252, assumed aloud',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, site('Évora 5')), 'latin1'),
    notes: ['encoding-assumed', 'delimiter-found'],
    rows: [1, 0, 0, 0],
    records: ['customer Ugly Évora 5'],
  },
  {
    name: 'tabs, and a heading row that is not the first',
    fileName: 'a.csv',
    bytes: () => encode(lines('Installed base, draft', '', SITES.replaceAll(';', '\t'), site(6).replaceAll(';', '\t'))),
    notes: ['delimiter-found'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a delimiter that the file says itself',
    fileName: 'a.csv',
    bytes: () => encode(lines('sep=,', SITES.replaceAll(';', ','), site(7).replaceAll(';', ','))),
    notes: ['delimiter-said'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'quotes with line breaks, delimiters and quotes in them',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${SITES};Address`, `"Ugly ""8""";"Hall; north";Braga;Europe/Lisbon;"Road 1\nDoor 2"`)),
    notes: ['delimiter-found'],
    rows: [1, 0, 0, 0],
    records: ['site Hall; north', 'customer Ugly "8"'],
  },
  {
    name: 'stray quotes',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${SITES};Address`, `Ugly 9;Hall;Braga;Europe/Lisbon;5" pipe road`)),
    notes: ['stray-quotes', 'delimiter-found'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a quote that is never closed',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, `"Ugly 10;Hall;Braga;Europe/Lisbon`)),
    unreadable: 'quote-not-closed',
  },
  { name: 'nothing but headings', fileName: 'a.csv', bytes: () => encode(lines(SITES)), unreadable: 'nothing' },
  {
    name: 'bytes of a picture',
    fileName: 'a.csv',
    bytes: () => Buffer.from([0x89, 0x50, 0, 1, 0, 0, 7, 9, 0, 3]),
    unreadable: 'not-text',
  },
  {
    name: 'the old binary workbook',
    fileName: 'a.xls',
    bytes: () => Buffer.from('d0cf11e0a1b11ae1000000000000000000000000', 'hex'),
    unreadable: 'old-format',
  },
  {
    name: 'a workbook that was cut off',
    fileName: 'a.xlsx',
    bytes: async () => (await workbook((sheet) => sheet.addRows([HEAD, xlsxSite(11)]))()).slice(0, 3000),
    unreadable: 'archive-damaged',
  },
  {
    name: 'an archive that says less than it unpacks to',
    fileName: 'a.xlsx',
    bytes: async () => {
      const bytes = Buffer.from(await workbook((sheet) => sheet.addRows([HEAD, xlsxSite(12)]))());
      // The size that the directory claims for its first part.
      const at = bytes.indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
      bytes.writeUInt32LE(10, at + 24);
      return bytes;
    },
    unreadable: 'archive-lies',
  },
  {
    name: 'trailing spaces, empty rows and a row of totals',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, 'Ugly 13 ;  Hall;Braga ;Europe/Lisbon', ';;;', '', site('13 b'), 'Total;2;;')),
    notes: ['delimiter-found', 'trailing-spaces', 'empty-rows', 'totals-rows'],
    rows: [2, 0, 0, 0],
    records: ['customer Ugly 13'],
  },
  {
    name: 'leading zeros stay',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};Machine serial`, `${unit(14)};000471`)),
    notes: ['delimiter-found', 'leading-zeros'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a heading twice: the first is taken, the second is left to a person',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${SITES};Place`, `${site(15)};Faro`)),
    notes: ['delimiter-found', 'duplicate-heading'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a column without a heading, and rows of different length',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, `${site(16)};left over`, 'Ugly 16;Annex;Braga;Europe/Lisbon')),
    notes: ['delimiter-found', 'columns-without-heading'],
    rows: [2, 0, 0, 0],
  },
  {
    name: 'dates that read two ways are asked',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};In service on`, `${unit(17)};03/04/2024`)),
    questions: ['date-order'],
  },
  {
    name: 'dates that read two ways, answered',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};In service on`, `${unit(18)};03/04/2024`)),
    change: answer(10, { dateOrder: 'day-month' }),
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a column that gives its order of day and month away',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};In service on`, `${unit(19)};03/04/2024`, `${unit('19 b')};25/04/2024`)),
    questions: [],
    rows: [2, 0, 0, 0],
  },
  {
    name: 'days first and months first in one column',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          `${UNITS};In service on`,
          `${unit(20)};25/04/2024`,
          `${unit('20 b')};04/25/2024`,
          `${unit('20 c')};03/04/2024`,
        ),
      ),
    findings: ['K4 ambiguous-date'],
    rows: [2, 0, 0, 1],
  },
  {
    name: 'no such day',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};In service on`, `${unit(21)};2023-02-29`, `${unit('21 b')};soon`)),
    findings: ['K2 no-such-date', 'K3 date-needed'],
    rows: [0, 0, 0, 2],
  },
  {
    name: 'a comma that is a decimal sign or groups is asked',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${UNITS};Plant air, highest`, `${unit(22)};1,234 bar`)),
    questions: ['decimal-sign'],
  },
  {
    name: 'decimal commas, told by their company',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${SITES};Latitude;Longitude`, `${site(23)};41,55;-8,42`, `${site('23 b')};38,123;-9,1`)),
    questions: [],
    rows: [2, 0, 0, 0],
  },
  {
    name: 'units in the heading, in the cell, and nowhere',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          `${UNITS};Plant air, lowest (psi);Plant air, highest`,
          `${unit(24)};80;7 bar`,
          `${unit('24 b')};5.5 bar;100 psi`,
          `${unit('24 c')};80;7`,
          `${unit('24 d')};80;7 mm`,
        ),
      ),
    findings: ['L4 unit-missing', 'L5 unit-not-understood'],
    rows: [2, 0, 0, 2],
  },
  {
    name: 'lowest above highest, below zero, zero',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          `${UNITS};Plant air, lowest [bar];Plant air, highest [bar]`,
          `${unit(25)};8;6`,
          `${unit('25 b')};-5;6`,
          `${unit('25 c')};0;6`,
        ),
      ),
    findings: ['K2 air-order', 'K3 negative', 'K4 zero'],
    rows: [0, 0, 0, 3],
  },
  {
    name: 'words for choices, and one that is none',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          UNITS,
          unit(26).replace('pallets', 'Single Station').replace('A, B', 'A'),
          unit('26 b').replace('direct', 'hose'),
        ),
      ),
    findings: ['G3 choice'],
    rows: [1, 0, 0, 1],
  },
  {
    name: 'two stations on a single-station machine; a machine without any',
    fileName: 'a.csv',
    bytes: () => encode(lines(UNITS, unit(27).replace('pallets', 'single-station'), unit('27 b').replace('A, B', ''))),
    findings: ['F2 single-station', 'row 3 machine-without-station'],
    rows: [0, 0, 0, 2],
  },
  {
    name: 'rows that contradict each other',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, site(28), 'Ugly 28;Hall;Faro;Europe/Lisbon', 'ugly 28;HALL;Évora;Europe/Lisbon')),
    findings: ['C3 contradicts'],
    rows: [1, 0, 1, 1],
  },
  {
    name: 'names missing: of the record, and of what it belongs to',
    fileName: 'a.csv',
    bytes: () => encode(lines(SITES, ';Hall;Braga;Europe/Lisbon', 'Ugly 29;;Braga;Europe/Lisbon')),
    findings: ['B2 parent-missing', 'C3 key-missing'],
    rows: [0, 0, 0, 2],
  },
  {
    name: 'a record that is new and says too little',
    fileName: 'a.csv',
    bytes: () => encode(lines('Customer;Site;Machine;Model', 'Ugly 30;Hall;MC 1;X')),
    findings: ['row 2 missing', 'row 2 missing', 'row 2 machine-without-station'],
    rows: [0, 0, 0, 1],
  },
  {
    name: 'merged cells',
    fileName: 'a.xlsx',
    bytes: workbook((sheet) => {
      sheet.addRows([
        HEAD,
        xlsxSite(31),
        ['', 'Annex', 'Braga', 'Europe/Lisbon'],
        ['', 'Yard', 'Braga', 'Europe/Lisbon'],
      ]);
      sheet.mergeCells('A2:A4');
    }),
    notes: ['merged-cells'],
    rows: [3, 0, 0, 0],
    records: ['site Yard'],
  },
  {
    name: 'formulas with and without a value, and an error',
    fileName: 'a.xlsx',
    bytes: workbook((sheet) => {
      sheet.addRows([HEAD, xlsxSite(32), xlsxSite('32 b'), xlsxSite('32 c')]);
      sheet.getCell('C2').value = { formula: 'CONCATENATE("Bra","ga")', result: 'Braga' };
      sheet.getCell('C3').value = { formula: 'A1&A2' } as ExcelJS.CellFormulaValue;
      sheet.getCell('C4').value = { error: '#N/A' };
    }),
    notes: ['formulas', 'formulas-without-value', 'error-cells'],
    findings: ['C3 formula-without-value', 'C4 error-cell'],
    rows: [1, 0, 0, 2],
  },
  {
    name: 'hidden rows and a hidden column are left out unless wanted',
    fileName: 'a.xlsx',
    bytes: workbook((sheet) => {
      sheet.addRows([
        [...HEAD, 'Site note'],
        [...xlsxSite(33), 'secret'],
        [...xlsxSite('33 b'), 'secret'],
      ]);
      sheet.getRow(3).hidden = true;
      sheet.getColumn(5).hidden = true;
    }),
    notes: ['hidden-rows', 'hidden-columns'],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'hidden rows, wanted',
    fileName: 'a.xlsx',
    bytes: workbook((sheet) => {
      sheet.addRows([HEAD, xlsxSite(34), xlsxSite('34 b')]);
      sheet.getRow(3).hidden = true;
    }),
    change: (mapping) => {
      mapping.hiddenRows = true;
    },
    notes: ['hidden-rows'],
    rows: [2, 0, 0, 0],
  },
  {
    name: 'typed dates, counted from 1904',
    fileName: 'a.xlsx',
    bytes: workbook((sheet, book) => {
      book.properties.date1904 = true;
      sheet.addRow([...UNITS.split(';'), 'In service on']);
      sheet.addRow([...unit(35).split(';'), new Date('2024-04-03T00:00:00Z')]);
    }),
    notes: ['dates-from-1904'],
    questions: [],
    rows: [1, 0, 0, 0],
  },
  {
    name: 'a cell that the spreadsheet program made a date of',
    fileName: 'a.xlsx',
    bytes: workbook((sheet) => {
      sheet.addRow([...UNITS.split(';'), 'Plant air, lowest [bar]']);
      sheet.addRow([...unit(36).split(';'), new Date('2024-05-06T00:00:00Z')]);
    }),
    findings: ['K2 became-a-date'],
    rows: [0, 0, 0, 1],
  },
  {
    name: 'several sheets: the second refers to the first',
    fileName: 'a.xlsx',
    bytes: workbook((sheet, book) => {
      sheet.addRows([['Customer', 'Name', 'Place', 'Time zone'], xlsxSite(37)]);
      const machines = book.addWorksheet('Machines');
      machines.addRows([
        ['Customer', 'Site', 'Name', 'Form', 'Way in', 'Stations'],
        ['Ugly 37', 'Hall', 'MC 1', 'pallets', 'direct', 'A; B'],
        ['Ugly 37', 'Hall', 'MC 2', 'pallets', 'direct', 'A; B'],
      ]);
      book.addWorksheet('Notes').addRow(['call them']);
    }),
    rows: [3, 0, 0, 0],
    records: ['machine MC 2'],
  },
  {
    name: 'formula injection is text like any other',
    fileName: 'a.csv',
    bytes: () => encode(lines(`${SITES};Address`, `${site(38)};=HYPERLINK("x")`, `${site('38 b')};'@cmd`)),
    rows: [2, 0, 0, 0],
  },
  {
    name: 'a component type that is not in the library, and a date that has not come',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          `${UNITS};Station;Circuit;Designation;Component type;Installed from`,
          `${unit(39)};A;C;H1;No such hose;2024-01-01`,
          `${unit('39 b')};A;C;H1;Test hose;2199-01-01`,
        ),
      ),
    findings: ['N2 component-type-unknown', 'O3 future'],
    rows: [0, 0, 0, 2],
  },
  {
    name: 'a pressure switch that makes below where it drops out; a class without its span',
    fileName: 'a.csv',
    bytes: () => {
      const base = `${UNITS};Station;Circuit;Setting [bar];Switch set point [bar];Switch reset point [bar];Gauge class;Measured at;Measured by;Report;Reason`;
      const row = (n: string, rest: string): string => `${unit(n)};A;C;${rest};2024-01-01;M;R;base`;
      return encode(lines(base, row('40', '175;140;150;'), row('40 b', '175;150;140;1.6')));
    },
    findings: ['O2 switch-order', 'P3 both-or-neither'],
    rows: [0, 0, 0, 2],
  },
  {
    name: 'a text that is far too long, a bad e-mail address, a latitude beyond the pole',
    fileName: 'a.csv',
    bytes: () =>
      encode(
        lines(
          `${SITES};E-mail;Latitude`,
          `${'x'.repeat(121)};Hall;Braga;Europe/Lisbon;;`,
          `${site('41 b')};nobody;`,
          `${site('41 c')};;95.5`,
        ),
      ),
    findings: ['A2 too-long', 'E3 email', 'F4 range'],
    rows: [0, 0, 0, 3],
  },
];
