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
export function writeCsv({ headers, rows }: Omit<OutSheet, 'name'>): Uint8Array {
  const lines = [headers.map(toCsvCell).join(',')];
  for (const row of rows) lines.push(row.map(toCsvCell).join(','));
  return Buffer.from(`\uFEFF${lines.join('\r\n')}\r\n`, 'utf8');
}
