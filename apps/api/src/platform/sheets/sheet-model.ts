/** A cell as a file holds it: text, number, yes or no, or one of the kinds below. `null` is an empty cell. */
export type PlainCell = string | number | boolean | null;
/** A number whose format writes a unit behind it. */
export interface NumberWithUnit {
  t: 'number';
  v: number;
  unit: string;
}
export type Cell =
  | PlainCell
  | NumberWithUnit
  /** a day, or a day with a time of day; in the zone of whoever wrote it */
  | { t: 'date'; v: string }
  /** the value that the formula had when the file was saved; null when the file keeps none */
  | { t: 'formula'; v: PlainCell | NumberWithUnit | { t: 'date'; v: string } | { t: 'error'; v: string } }
  | { t: 'error'; v: string };

export interface Row {
  /** as the program that wrote the file numbers it, from 1 */
  n: number;
  hidden?: true;
  cells: Cell[];
}

export interface Sheet {
  name: string;
  hidden: boolean;
  rows: Row[];
  /** from 0 */
  hiddenColumns: number[];
  /** `A2:A7` */
  merged: string[];
}

export interface FileNote {
  code: string;
  params: Record<string, string | number>;
}

export interface SheetFile {
  format: 'csv' | 'xlsx';
  sheets: Sheet[];
  /** what was assumed or found while reading */
  notes: FileNote[];
}

/** A file that cannot be read: why, as a code with parameters. */
export class UnreadableFile extends Error {
  constructor(
    readonly code: string,
    readonly params: Record<string, string | number> = {},
  ) {
    super(code);
  }
}

/** Bounds of what is read; far above any list that a person keeps. */
export const LIMITS = {
  sheets: 50,
  rows: 200_000,
  columns: 300,
  cells: 3_000_000,
  cellCharacters: 32_767,
  /** of all cells together, as they are kept: a text that a workbook holds once may stand in each of them */
  characters: 100_000_000,
  zipEntries: 2_000,
  unpackedBytes: 512 * 1024 * 1024,
  seconds: 150,
  heapMb: 1_536,
} as const;

/** `0` is A, `26` is AA. */
export function columnLetter(index: number): string {
  let rest = index + 1;
  let letters = '';
  while (rest > 0) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
    rest = Math.floor((rest - 1) / 26);
  }
  return letters;
}

const RISKY = /^'*[=+\-@\t\r\n＝＋－＠]/;
const GUARDED = /^'+[=+\-@\t\r\n＝＋－＠]/;

/** A text that no spreadsheet takes for a formula: an apostrophe before what would begin one. */
export const guardText = (text: string): string => (RISKY.test(text) ? `'${text}` : text);

/** The text as it was before it was guarded. */
export const unguardText = (text: string): string => (GUARDED.test(text) ? text.slice(1) : text);
