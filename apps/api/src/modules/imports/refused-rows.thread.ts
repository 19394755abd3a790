import { unpackSheets, writeSheets, type Cell, type OutCell, type OutSheet } from '../../platform/sheets/index.js';
import { headingsOf } from './describe-file.js';
import { WHY_REFUSED } from './headings.js';

export interface RefusedRows {
  packed: Uint8Array;
  /** of each sheet */
  headerRows: readonly number[];
  /** why, by sheet and number of the row */
  reasons: ReadonlyMap<number, ReadonlyMap<number, string>>;
  format: 'csv' | 'xlsx';
}

const toOut = (cell: Cell | undefined): OutCell => {
  if (cell === undefined || cell === null || typeof cell !== 'object') return cell ?? null;
  if (cell.t === 'number') return `${cell.v} ${cell.unit}`;
  return cell.t === 'formula' ? toOut(cell.v) : cell.v;
};

/** The refused rows as they were, each with its reason, as a file; for a thread, since a workbook of many cells takes long. */
export default function writeRefusedInThread(refused: RefusedRows): Promise<Uint8Array> {
  const { headerRows, reasons, format } = refused;
  const file = unpackSheets(refused.packed);
  // A workbook keeps all sheets of the file, some with headings alone: mended and sent again it is known by them.
  const isWhole = format === 'xlsx' && reasons.size > 0;
  const sheets = file.sheets.flatMap((sheet, index): OutSheet[] => {
    const byRow = reasons.get(index) ?? new Map<number, string>();
    if (byRow.size === 0 && !isWhole) return [];
    const headings = headingsOf(sheet, headerRows[index] ?? 0);
    // A list that was downloaded, mended in part and refused again has the column already.
    const kept = headings.flatMap((heading, column) => (heading === WHY_REFUSED ? [] : [column]));
    const rows = sheet.rows
      .filter((row) => byRow.has(row.n))
      .map((row) => [...kept.map((column) => toOut(row.cells[column])), byRow.get(row.n) ?? '']);
    return [{ name: sheet.name, headers: [...kept.map((column) => headings[column] ?? ''), WHY_REFUSED], rows }];
  });
  return writeSheets(format, sheets.length > 0 ? sheets : [{ name: 'refused', headers: [WHY_REFUSED], rows: [] }]);
}
