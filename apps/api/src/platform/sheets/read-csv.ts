import { CsvError, parse } from 'csv-parse/sync';
import { LIMITS, unguardText, UnreadableFile, type FileNote, type Row, type SheetFile } from './sheet-model.js';

const DELIMITERS = [';', ',', '\t'] as const;
const SAMPLE_LINES = 60;

/** The text of the bytes: by its mark, else UTF-16 by its zeros, UTF-8 if it is that, else Windows-1252 as an assumption. */
function decode(bytes: Buffer, notes: FileNote[]): string {
  const note = (code: string, encoding: string): void => {
    notes.push({ code, params: { encoding } });
  };
  const as = (encoding: string, from: number): string => new TextDecoder(encoding).decode(bytes.subarray(from));
  if (bytes.length >= 3 && bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) {
    note('encoding-marked', 'UTF-8');
    return as('utf-8', 3);
  }
  if (bytes.length >= 2 && bytes[0] === 0xff && bytes[1] === 0xfe) {
    note('encoding-marked', 'UTF-16LE');
    return as('utf-16le', 2);
  }
  if (bytes.length >= 2 && bytes[0] === 0xfe && bytes[1] === 0xff) {
    note('encoding-marked', 'UTF-16BE');
    return as('utf-16be', 2);
  }
  const head = bytes.subarray(0, 4096);
  const zeros = { even: 0, odd: 0 };
  head.forEach((byte, index) => {
    if (byte === 0) zeros[index % 2 === 0 ? 'even' : 'odd'] += 1;
  });
  if (zeros.odd > head.length / 8 && zeros.even === 0) {
    note('encoding-assumed', 'UTF-16LE');
    return as('utf-16le', 0);
  }
  if (zeros.even > head.length / 8 && zeros.odd === 0) {
    note('encoding-assumed', 'UTF-16BE');
    return as('utf-16be', 0);
  }
  if (zeros.even + zeros.odd > 0) throw new UnreadableFile('not-text');
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    note('encoding-assumed', 'Windows-1252');
    return as('windows-1252', 0);
  }
}

/** No text has it, and no database keeps it: the file is damaged, or is not what its name says. */
function assertNoZero(text: string): void {
  const at = text.indexOf('\0');
  if (at !== -1) throw new UnreadableFile('zero-byte', { line: text.slice(0, at).split('\n').length });
}

interface ParseSettings {
  delimiter: string;
  isRelaxed: boolean;
  toLine?: number;
}

const parseText = (text: string, { delimiter, isRelaxed, toLine }: ParseSettings): string[][] =>
  parse(text, {
    delimiter,
    relax_quotes: isRelaxed,
    relax_column_count: true,
    skip_empty_lines: false,
    max_record_size: 4_000_000,
    ...(toLine === undefined ? {} : { to: toLine }),
  });

/** The delimiter under which most lines have the same number of columns, more than one. */
function findDelimiter(text: string): string {
  const sample = text.slice(0, 200_000);
  let best = { delimiter: ',', score: 0 };
  for (const delimiter of DELIMITERS) {
    let lines: string[][];
    try {
      lines = parseText(sample, { delimiter, isRelaxed: true, toLine: SAMPLE_LINES });
    } catch (error) {
      if (!(error instanceof CsvError)) throw error;
      continue;
    }
    const widths = new Map<number, number>();
    for (const line of lines) widths.set(line.length, (widths.get(line.length) ?? 0) + 1);
    for (const [width, count] of widths) {
      const score = width < 2 ? 0 : count * 10 + Math.min(width, 9);
      if (score > best.score) best = { delimiter, score };
    }
  }
  return best.delimiter;
}

/** Strictly first; a file with stray quotes is read once more with quotes as ordinary characters, and says so. */
function parseAll(text: string, delimiter: string, notes: FileNote[]): string[][] {
  try {
    return parseText(text, { delimiter, isRelaxed: false });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = Number((error as CsvError & { lines?: number }).lines ?? 0);
    if (error.code === 'CSV_QUOTE_NOT_CLOSED') throw new UnreadableFile('quote-not-closed', { line });
    if (error.code === 'CSV_MAX_RECORD_SIZE') throw new UnreadableFile('row-too-large', { line });
    notes.push({ code: 'stray-quotes', params: { row: line } });
  }
  try {
    return parseText(text, { delimiter, isRelaxed: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    throw new UnreadableFile('quote-not-closed', { line: Number((error as CsvError & { lines?: number }).lines ?? 0) });
  }
}

export function readCsv(bytes: Buffer, name: string): SheetFile {
  const notes: FileNote[] = [];
  let text = decode(bytes, notes);
  assertNoZero(text);
  // Some programs say the delimiter in a line of its own.
  const separatorLine = /^sep=(.)\r?\n/i.exec(text);
  if (separatorLine?.[1] !== undefined) text = text.slice(separatorLine[0].length);
  const delimiter = separatorLine?.[1] ?? findDelimiter(text);
  notes.push({
    code: separatorLine === null ? 'delimiter-found' : 'delimiter-said',
    params: { delimiter: delimiter === '\t' ? 'tab' : delimiter },
  });
  const lines = parseAll(text, delimiter, notes);
  if (lines.length > LIMITS.rows) throw new UnreadableFile('too-many-rows', { limit: LIMITS.rows });
  const offset = separatorLine === null ? 1 : 2;
  let cells = 0;
  const rows: Row[] = lines.map((line, index) => {
    if (line.length > LIMITS.columns) throw new UnreadableFile('too-many-columns', { row: index + offset });
    cells += line.length;
    if (cells > LIMITS.cells) throw new UnreadableFile('too-many-cells', { limit: LIMITS.cells });
    return { n: index + offset, cells: line.map((cell) => (cell === '' ? null : unguardText(cell))) };
  });
  return { format: 'csv', notes, sheets: [{ name, hidden: false, rows, hiddenColumns: [], merged: [] }] };
}
