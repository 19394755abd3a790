import type ExcelJS from 'exceljs';
import { fillMerged } from './fill-merged.js';
import { loadExcel } from './load-excel.js';
import {
  LIMITS,
  unguardText,
  UnreadableFile,
  type Cell,
  type FileNote,
  type Row,
  type Sheet,
  type SheetFile,
} from './sheet-model.js';
import { assertHarmlessZip } from './zip-guard.js';

/** The library gives the wall clock of the sheet as UTC. */
function toDate(date: Date): { t: 'date'; v: string } | { t: 'error'; v: string } {
  if (!Number.isFinite(date.getTime())) return { t: 'error', v: '#VALUE!' };
  const iso = new Date(Math.round(date.getTime() / 1000) * 1000).toISOString();
  return { t: 'date', v: iso.endsWith('T00:00:00.000Z') ? iso.slice(0, 10) : iso.slice(0, 19) };
}

const isError = (value: object): value is { error: string } => 'error' in value;

/**
 * What a number format writes behind every number, such as `0.0" bar"` or `0\ "psi"`; null where it writes nothing. Of formats for
 * positive and negative numbers the first counts.
 */
export function unitOfFormat(format: string | undefined): string | null {
  const [positive = ''] = (format ?? '').split(';');
  const behind = /[0#?](?:[^0#?"\\]*)((?:"[^"]*"|\\.|[ _])+)$/u.exec(positive.trim())?.[1];
  if (behind === undefined) return null;
  const text = behind.replaceAll(
    /"([^"]*)"|\\(.)|_/gu,
    (_, quoted?: string, escaped?: string) => quoted ?? escaped ?? '',
  );
  return text.trim() === '' ? null : text.trim();
}

function toNumber(value: number, format: string | undefined): Cell {
  if (!Number.isFinite(value)) return { t: 'error', v: '#NUM!' };
  const unit = unitOfFormat(format);
  return unit === null ? value : { t: 'number', v: value, unit };
}

function toCell(value: ExcelJS.CellValue, format?: string): Cell {
  if (value === null || value === undefined || value === '') return null;
  if (typeof value === 'string') return unguardText(value.slice(0, LIMITS.cellCharacters));
  if (typeof value === 'number') return toNumber(value, format);
  if (typeof value === 'boolean') return value;
  if (value instanceof Date) return toDate(value);
  if ('richText' in value) return unguardText(value.richText.map((part) => part.text).join(''));
  if ('formula' in value || 'sharedFormula' in value) {
    const inner = value.result === undefined ? null : toCell(value.result as ExcelJS.CellValue, format);
    return { t: 'formula', v: inner as Extract<Cell, { t: 'formula' }>['v'] };
  }
  if ('text' in value) return unguardText(String(value.text));
  if (isError(value)) return { t: 'error', v: String(value.error) };
  return null;
}

/** A workbook can write it as an escape. */
const holdsZero = (cell: unknown): boolean =>
  typeof cell === 'string'
    ? cell.includes('\0')
    : typeof cell === 'object' && cell !== null && 'v' in cell && holdsZero(cell.v);

type Worksheet = ExcelJS.Worksheet & { merged?: readonly string[] };

/**
 * The library writes out each cell of a merged range, of which a few bytes name millions: for the time of reading, ranges are only named.
 */
function nameMergedAlone(worksheet: ExcelJS.Worksheet): void {
  const prototype = Object.getPrototypeOf(worksheet) as object;
  Object.assign(prototype, {
    _parseMergeCells(this: Worksheet, model: { mergeCells?: readonly string[] }) {
      this.merged = model.mergeCells ?? [];
    },
  });
}

function toSheet(worksheet: Worksheet, count: { cells: number }): Sheet {
  const rows: Row[] = [];
  if (worksheet.columnCount > LIMITS.columns) {
    throw new UnreadableFile('too-many-columns', { sheet: worksheet.name, limit: LIMITS.columns });
  }
  worksheet.eachRow({ includeEmpty: true }, (row, n) => {
    if (n > LIMITS.rows) throw new UnreadableFile('too-many-rows', { limit: LIMITS.rows });
    const cells: Cell[] = [];
    row.eachCell({ includeEmpty: false }, (cell, column) => {
      while (cells.length < column - 1) cells.push(null);
      cells[column - 1] = toCell(cell.value, cell.numFmt);
    });
    if (cells.some(holdsZero)) throw new UnreadableFile('zero-byte', { line: n });
    count.cells += cells.length;
    if (count.cells > LIMITS.cells) throw new UnreadableFile('too-many-cells', { limit: LIMITS.cells });
    rows.push(row.hidden ? { n, hidden: true, cells } : { n, cells });
  });
  const hiddenColumns = Array.from({ length: worksheet.columnCount }, (_, index) => index).filter(
    (index) => worksheet.getColumn(index + 1).hidden === true,
  );
  const isHidden = worksheet.state !== 'visible';
  const sheet = { name: worksheet.name, hidden: isHidden, rows, hiddenColumns, merged: [...(worksheet.merged ?? [])] };
  fillMerged(sheet, count);
  return sheet;
}

/** Rules of cells, of which nothing is taken: the library would write out each cell of a range of millions. */
const NOT_READ = ['dataValidations', 'conditionalFormatting'];

export async function readXlsx(bytes: Buffer): Promise<SheetFile> {
  assertHarmlessZip(bytes);
  const { Workbook } = await loadExcel();
  const workbook = new Workbook();
  nameMergedAlone(new Workbook().addWorksheet('any'));
  try {
    const content = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer;
    await workbook.xlsx.load(content, { ignoreNodes: NOT_READ });
  } catch (error) {
    throw new UnreadableFile('workbook-damaged', { reason: error instanceof Error ? error.message.slice(0, 200) : '' });
  }
  if (workbook.worksheets.length === 0) throw new UnreadableFile('no-sheet');
  if (workbook.worksheets.length > LIMITS.sheets) throw new UnreadableFile('too-many-sheets', { limit: LIMITS.sheets });
  const notes: FileNote[] = [];
  if (workbook.properties.date1904 === true) notes.push({ code: 'dates-from-1904', params: {} });
  const count = { cells: 0 };
  return { format: 'xlsx', notes, sheets: workbook.worksheets.map((worksheet) => toSheet(worksheet, count)) };
}
