import type { ImportColumn, ImportMapping, ImportNote, ImportReading } from '@repo/contracts';
import { columnLetter, type Cell, type Row, type Sheet, type SheetFile } from '../../platform/sheets/index.js';
import { styleOf } from './column-style.js';
import { findHeaderRow, fingerprintOf, suggestFields, textOf } from './headings.js';

const SAMPLES = 3;
const TOTALS = /^(grand |sub)?(total|totals|sum|average|summe|gesamt)\b/i;

export const isEmptyRow = (row: Row): boolean => row.cells.every((cell) => textOf(cell).trim() === '');

/** A line that sums up the ones above is no record. */
export function isTotalsRow(row: Row): boolean {
  const first = row.cells.map(textOf).find((text) => text.trim() !== '');
  return first !== undefined && TOTALS.test(first.trim());
}

/** The rows that hold records, below the headings. */
export const recordRows = (sheet: Sheet, headerRow: number, keepTotals = false): Row[] =>
  sheet.rows.filter((row) => row.n > headerRow && !isEmptyRow(row) && (keepTotals || !isTotalsRow(row)));

export function headingsOf(sheet: Sheet, headerRow: number): string[] {
  const width = sheet.rows.reduce((widest, row) => Math.max(widest, row.cells.length), 0);
  const header = sheet.rows.find((row) => row.n === headerRow);
  return Array.from({ length: width }, (_, index) => textOf(header?.cells[index]).trim());
}

interface Tallies {
  spaces: number;
  formulas: number;
  formulasWithout: number;
  errors: number;
  zeros: number;
  units: number;
  first: Map<string, string>;
}

function tally(rows: readonly Row[]): Tallies {
  const found: Tallies = {
    spaces: 0,
    formulas: 0,
    formulasWithout: 0,
    errors: 0,
    zeros: 0,
    units: 0,
    first: new Map(),
  };
  const count = (what: Exclude<keyof Tallies, 'first'>, row: Row, column: number): void => {
    found[what] += 1;
    if (!found.first.has(what)) found.first.set(what, `${columnLetter(column)}${row.n}`);
  };
  for (const row of rows) {
    row.cells.forEach((cell, column) => {
      if (typeof cell === 'string') {
        if (cell !== cell.trim()) count('spaces', row, column);
        if (/^0\d+$/.test(cell.trim())) count('zeros', row, column);
      } else if (typeof cell === 'object' && cell !== null) {
        if (cell.t === 'number' || (cell.t === 'formula' && typeof cell.v === 'object' && cell.v?.t === 'number'))
          count('units', row, column);
        if (cell.t === 'error') count('errors', row, column);
        if (cell.t === 'formula') count(cell.v === null ? 'formulasWithout' : 'formulas', row, column);
      }
    });
  }
  return found;
}

function notesOf(sheet: Sheet, headerRow: number, headings: readonly string[], rows: readonly Row[]): ImportNote[] {
  const notes: ImportNote[] = [];
  const below = sheet.rows.filter((row) => row.n > headerRow);
  const found = tally(rows);
  const add = (code: string, count: number, first?: string): void => {
    if (count > 0) notes.push({ code, params: first === undefined ? { count } : { count, first } });
  };
  add('trailing-spaces', found.spaces, found.first.get('spaces'));
  add('leading-zeros', found.zeros, found.first.get('zeros'));
  add('formulas', found.formulas, found.first.get('formulas'));
  add('formulas-without-value', found.formulasWithout, found.first.get('formulasWithout'));
  add('number-formats', found.units, found.first.get('units'));
  add('error-cells', found.errors, found.first.get('errors'));
  add('merged-cells', sheet.merged.length, sheet.merged[0]);
  add('hidden-rows', rows.filter((row) => row.hidden === true).length);
  add('hidden-columns', sheet.hiddenColumns.length, columnLetter(sheet.hiddenColumns[0] ?? 0));
  const totals = below.filter((row) => !isEmptyRow(row) && isTotalsRow(row));
  add('totals-rows', totals.length, totals[0] === undefined ? undefined : String(totals[0].n));
  const last = rows.at(-1)?.n ?? headerRow;
  const empty = below.filter((row) => row.n < last && isEmptyRow(row));
  add('empty-rows', empty.length, empty[0] === undefined ? undefined : String(empty[0].n));
  const seen = new Set<string>();
  for (const [index, heading] of headings.entries()) {
    const key = heading.toLowerCase();
    if (key !== '' && seen.has(key)) {
      notes.push({ code: 'duplicate-heading', params: { heading, column: columnLetter(index) } });
    }
    seen.add(key);
  }
  const unnamed = headings.flatMap((heading, index) =>
    heading === '' && rows.some((row) => textOf(row.cells[index]) !== '') ? [columnLetter(index)] : [],
  );
  if (unnamed.length > 0) notes.push({ code: 'columns-without-heading', params: { columns: unnamed.join(', ') } });
  return notes;
}

function columnsOf(sheet: Sheet, headings: readonly string[], rows: readonly Row[]): ImportColumn[] {
  return headings.map((header, column) => {
    const cells: Cell[] = rows.map((row) => row.cells[column] ?? null);
    const samples = new Set<string>();
    for (const cell of cells) {
      const text = textOf(cell).trim();
      if (text !== '') samples.add(text.slice(0, 60));
      if (samples.size === SAMPLES) break;
    }
    return {
      column,
      letter: columnLetter(column),
      header,
      hidden: sheet.hiddenColumns.includes(column),
      samples: [...samples],
      ...styleOf(cells),
    };
  });
}

/** What a file holds, in the words of the contract; sheet by sheet under the headings that are taken for such. */
export function describeFile(
  file: SheetFile,
  headerRows?: readonly (number | undefined)[],
): { reading: ImportReading; fingerprint: string } {
  const sheets = file.sheets.map((sheet, index) => {
    const headerRow = headerRows?.[index] ?? findHeaderRow(sheet);
    const headings = headingsOf(sheet, headerRow);
    const rows = recordRows(sheet, headerRow);
    return {
      name: sheet.name,
      hidden: sheet.hidden,
      rows: rows.length,
      hiddenRows: rows.filter((row) => row.hidden === true).length,
      headerRow,
      notes: notesOf(sheet, headerRow, headings, rows),
      columns: columnsOf(sheet, headings, rows),
    };
  });
  const reading = { format: file.format, notes: file.notes, sheets };
  return { reading, fingerprint: fingerprintOfReading(reading) };
}

export const fingerprintOfReading = (reading: ImportReading): string =>
  fingerprintOf(reading.sheets.map((sheet) => sheet.columns.map((column) => column.header)));

/** Whether there is something to import, rows that may be sums among it. */
export const hasRows = (sheet: ImportReading['sheets'][number]): boolean =>
  sheet.rows > 0 || sheet.notes.some((note) => note.code === 'totals-rows');

/** How the columns are understood until somebody says otherwise. */
export function suggestMapping(reading: ImportReading, fileName: string): ImportMapping {
  return {
    hiddenRows: false,
    hiddenColumns: false,
    decimal: null,
    keepTotals: false,
    sheets: reading.sheets.map((sheet, index) => {
      const title = reading.sheets.length === 1 ? `${sheet.name} ${fileName}` : sheet.name;
      const fields = suggestFields(
        sheet.columns.map((column) => column.header),
        title,
      );
      return {
        sheet: index,
        use: !sheet.hidden && hasRows(sheet) && fields.some((field) => field !== null),
        headerRow: sheet.headerRow,
        columns: sheet.columns.map((column) => ({
          column: column.column,
          field: column.hidden ? null : (fields[column.column] ?? null),
          unit: null,
          decimal: null,
          dateOrder: null,
          fillDown: false,
        })),
        constants: [],
      };
    }),
  };
}

/** Looks at headings where somebody said that they stand; what was said of columns under other headings is suggested anew. */
export function moveHeadings(mapping: ImportMapping, before: ImportReading, after: ImportReading): ImportMapping {
  const suggested = suggestMapping(after, '').sheets;
  return {
    ...mapping,
    sheets: mapping.sheets.map((sheet) => {
      const other = suggested[sheet.sheet];
      const isMoved = before.sheets[sheet.sheet]?.headerRow !== sheet.headerRow;
      return isMoved && other !== undefined
        ? { ...other, use: sheet.use || other.use, constants: sheet.constants }
        : sheet;
    }),
  };
}

/** The rows that a mapping names for the headings, sheet by sheet. */
export function headerRowsOf(mapping: ImportMapping): (number | undefined)[] {
  const rows: (number | undefined)[] = [];
  for (const { sheet, headerRow } of mapping.sheets) rows[sheet] = headerRow;
  return rows;
}

/** The rows that an earlier mapping names for the headings; null where they are where this file seems to have them. */
export function otherHeaderRows(earlier: ImportMapping, reading: ImportReading): (number | undefined)[] | null {
  const rows = headerRowsOf(earlier);
  return reading.sheets.some(({ headerRow }, index) => (rows[index] ?? headerRow) !== headerRow) ? rows : null;
}

/**
 * A mapping of an earlier file with the same headings, for this one. What was said about dates, decimal signs and sums was said of
 * that file: it is asked anew where it reads two ways again. The headings may stand in another row.
 */
export const recallMapping = (earlier: ImportMapping, reading: ImportReading): ImportMapping => ({
  ...earlier,
  decimal: null,
  keepTotals: false,
  sheets: earlier.sheets.map((sheet) => ({
    ...sheet,
    headerRow: reading.sheets[sheet.sheet]?.headerRow ?? sheet.headerRow,
    columns: sheet.columns.map((column) => ({ ...column, decimal: null, dateOrder: null })),
  })),
});
