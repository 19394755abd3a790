import ExcelJS from 'exceljs';
import { guardText } from './sheet-model.js';

/** What is written: texts are guarded, numbers, days and yes or no keep their type. */
export type OutCell = string | number | boolean | Date | null;

export interface OutSheet {
  name: string;
  headers: readonly string[];
  rows: Iterable<readonly OutCell[]>;
}

export const CSV_MEDIA_TYPE = 'text/csv; charset=utf-8';
export const XLSX_MEDIA_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

const dayOf = (date: Date): string => {
  const iso = date.toISOString();
  return iso.endsWith('T00:00:00.000Z') ? iso.slice(0, 10) : iso;
};

/** One cell of RFC 4180; texts are guarded. */
export function toCsvCell(cell: OutCell): string {
  if (cell === null) return '';
  if (cell instanceof Date) return dayOf(cell);
  if (typeof cell !== 'string') return String(cell);
  const text = guardText(cell);
  return /["\r\n,;\t]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** RFC 4180 with a byte order mark, by which spreadsheet programs know UTF-8. */
function writeCsv({ headers, rows }: Omit<OutSheet, 'name'>): Uint8Array {
  const lines = [headers.map(toCsvCell).join(',')];
  for (const row of rows) lines.push(row.map(toCsvCell).join(','));
  return Buffer.from(`\uFEFF${lines.join('\r\n')}\r\n`, 'utf8');
}

const LONGEST_NAME = 31;

/** A name that a workbook takes for a sheet, as near as can be to one that may be anything, such as the name of a file. */
function toSheetName(name: string, taken: Set<string>): string {
  const plain = name.replaceAll(/[*?:\\/[\]\u0000-\u001f]/g, '_').trim();
  // Programs keep one name for themselves.
  const wished = plain === '' || plain.toLowerCase() === 'history' ? `${plain}_` : plain;
  const cut = (length: number): string =>
    wished
      .slice(0, length)
      .replaceAll(/\p{Surrogate}/gu, '_')
      .replaceAll(/^'|'$/g, '_');
  let found = cut(LONGEST_NAME);
  for (let n = 2; taken.has(found.toLowerCase()); n += 1) found = `${cut(LONGEST_NAME - 5)} ${n}`;
  taken.add(found.toLowerCase());
  return found;
}

/** A workbook with typed cells, headings that stay in sight and columns as wide as what they hold. */
async function writeXlsx(sheets: readonly OutSheet[]): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const taken = new Set<string>();
  for (const { name, headers, rows } of sheets) {
    const sheet = workbook.addWorksheet(toSheetName(name, taken), { views: [{ state: 'frozen', ySplit: 1 }] });
    const widths = headers.map((header) => header.length);
    sheet.addRow(headers.map(guardText)).font = { bold: true };
    for (const row of rows) {
      sheet.addRow(row.map((cell) => (typeof cell === 'string' ? guardText(cell) : cell)));
      row.forEach((cell, index) => {
        widths[index] = Math.max(widths[index] ?? 0, typeof cell === 'string' ? cell.length : 10);
      });
    }
    widths.forEach((width, index) => {
      sheet.getColumn(index + 1).width = Math.min(60, width + 2);
    });
  }
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}

/** Sheets as a file; a CSV file has the first alone. */
export function writeSheets(format: 'csv' | 'xlsx', sheets: readonly OutSheet[]): Promise<Uint8Array> {
  const [first] = sheets;
  if (first === undefined) throw new Error('a file without a sheet');
  return format === 'csv' ? Promise.resolve(writeCsv(first)) : writeXlsx(sheets);
}
