import { promisify } from 'node:util';
import { gunzip, gunzipSync, gzipSync } from 'node:zlib';
import { setImmediate } from 'node:timers/promises';
import { fillMerged } from './fill-merged.js';
import { LIMITS, UnreadableFile, type Row, type Sheet, type SheetFile } from './sheet-model.js';

/** The first line: the file without its rows, which follow one in a line, sheet by sheet. */
type Head = Omit<SheetFile, 'sheets'> & { sheets: (Omit<Sheet, 'rows'> & { rows: number | Row[] })[] };

const PORTION_BYTES = 65_536;
const PORTION_ROWS = 500;
const LINE_END = 10;

/**
 * A file that was read, as it is kept until it is imported. Bytes are made in portions: whoever reads has only so much heap.
 * @throws UnreadableFile
 */
export function packSheets(file: SheetFile): Uint8Array {
  const head: Head = { ...file, sheets: file.sheets.map((sheet) => ({ ...sheet, rows: sheet.rows.length })) };
  const parts = [Buffer.from(JSON.stringify(head))];
  let characters = 0;
  for (const { rows } of file.sheets) {
    for (let from = 0; from < rows.length; from += PORTION_ROWS) {
      const lines: string[] = [];
      for (const row of rows.slice(from, from + PORTION_ROWS)) {
        const line = JSON.stringify(row);
        characters += line.length;
        if (characters > LIMITS.characters)
          throw new UnreadableFile('too-much-text', { limit: LIMITS.characters / 1e6 });
        lines.push(`\n${line}`);
      }
      parts.push(Buffer.from(lines.join('')));
    }
  }
  return gzipSync(Buffer.concat(parts), { level: 1 });
}

/** In one go: for a thread or a process of its own. */
export function unpackSheets(packed: Uint8Array): SheetFile {
  const { head, portions } = read(gunzipSync(packed));
  const file = toFile(head);
  for (const portion of portions) file.take(portion);
  return file.whole;
}

/** In portions, between which the event loop hears others. */
export async function unpackInTurns(packed: Uint8Array): Promise<SheetFile> {
  const { head, portions } = read(await promisify(gunzip)(packed));
  const file = toFile(head);
  for (const portion of portions) {
    file.take(portion);
    await setImmediate();
  }
  return file.whole;
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

/** The file, to which rows are given in their order. */
function toFile(head: Head): { whole: SheetFile; take: (rows: readonly Row[]) => void } {
  const sheets = head.sheets.map((sheet): Sheet =>
    // Kept before rows had lines of their own, and merged cells their values.
    Array.isArray(sheet.rows) ? filled({ ...sheet, rows: sheet.rows }) : { ...sheet, rows: [] },
  );
  let at = 0;
  const take = (rows: readonly Row[]): void => {
    for (const row of rows) {
      while (sheets[at]?.rows.length === head.sheets[at]?.rows) at += 1;
      sheets[at]?.rows.push(row);
    }
  };
  return { whole: { ...head, sheets }, take };
}

function filled(sheet: Sheet): Sheet {
  fillMerged(sheet, { cells: 0 });
  return sheet;
}
