import { promisify } from 'node:util';
import { gunzip, gunzipSync, gzipSync } from 'node:zlib';
import { setImmediate } from 'node:timers/promises';
import { fillMerged } from './fill-merged.js';
import type { Row, Sheet, SheetFile } from './sheet-model.js';

/** The first line: the file without its rows, which follow one in a line, sheet by sheet. */
type Head = Omit<SheetFile, 'sheets'> & { sheets: (Omit<Sheet, 'rows'> & { rows: number | Row[] })[] };

const PORTION_BYTES = 65_536;
const LINE_END = 10;

/** A file that was read, as it is kept until it is imported. */
export function packSheets(file: SheetFile): Uint8Array {
  const head: Head = { ...file, sheets: file.sheets.map((sheet) => ({ ...sheet, rows: sheet.rows.length })) };
  const lines = [JSON.stringify(head), ...file.sheets.flatMap(({ rows }) => rows.map((row) => JSON.stringify(row)))];
  return gzipSync(lines.join('\n'), { level: 1 });
}

/** In one go: for a thread. */
export function unpackSheets(packed: Uint8Array): SheetFile {
  const { head, portions } = read(gunzipSync(packed));
  return toFile(head, [...portions].flat());
}

/** In portions, between which the event loop hears others. */
export async function unpackInTurns(packed: Uint8Array): Promise<SheetFile> {
  const { head, portions } = read(await promisify(gunzip)(packed));
  const rows: Row[] = [];
  for (const portion of portions) {
    for (const row of portion) rows.push(row);
    await setImmediate();
  }
  return toFile(head, rows);
}

function read(text: Buffer): { head: Head; portions: Generator<Row[]> } {
  const end = text.indexOf(LINE_END);
  const head = JSON.parse(text.toString('utf8', 0, end === -1 ? text.length : end)) as Head;
  return { head, portions: end === -1 ? none() : portionsOf(text, end + 1) };
}

function* none(): Generator<Row[]> {
  // A file without a row.
}

function* portionsOf(text: Buffer, start: number): Generator<Row[]> {
  for (let from = start; from < text.length;) {
    const lineEnd = text.indexOf(LINE_END, Math.min(from + PORTION_BYTES, text.length));
    const to = lineEnd === -1 ? text.length : lineEnd;
    yield JSON.parse(`[${text.toString('utf8', from, to).replaceAll('\n', ',')}]`) as Row[];
    from = to + 1;
  }
}

function toFile(head: Head, rows: Row[]): SheetFile {
  let from = 0;
  const sheets = head.sheets.map((sheet) => {
    // Kept before rows had lines of their own, and merged cells their values.
    if (Array.isArray(sheet.rows)) return filled({ ...sheet, rows: sheet.rows });
    const sheetRows = rows.slice(from, from + sheet.rows);
    from += sheet.rows;
    return { ...sheet, rows: sheetRows };
  });
  return { ...head, sheets };
}

function filled(sheet: Sheet): Sheet {
  fillMerged(sheet, { cells: 0 });
  return sheet;
}
