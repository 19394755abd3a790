import { loadExcel } from './load-excel.js';
import { guardText } from './sheet-model.js';
import { PartSink } from './stream-sheet.js';
import { writeCsv, type OutSheet } from './write-sheets.js';

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

/**
 * A workbook with typed cells, headings that stay in sight and columns as wide as what they hold. Written row by row: the library keeps
 * many times a cell's size of what is not written yet.
 */
async function writeXlsx(sheets: readonly OutSheet[]): Promise<Uint8Array> {
  const sink = new PartSink();
  const { stream } = await loadExcel();
  const workbook = new stream.xlsx.WorkbookWriter({ stream: sink, useStyles: true, useSharedStrings: false });
  const taken = new Set<string>();
  for (const { name, headers, rows } of sheets) {
    const sheet = workbook.addWorksheet(toSheetName(name, taken), { views: [{ state: 'frozen', ySplit: 1 }] });
    const kept = [...rows];
    const widths = headers.map((header) => header.length);
    for (const row of kept) {
      row.forEach((cell, index) => {
        widths[index] = Math.max(widths[index] ?? 0, typeof cell === 'string' ? cell.length : 10);
      });
    }
    sheet.columns = widths.map((width) => ({ width: Math.min(60, width + 2) }));
    const head = sheet.addRow(headers.map(guardText));
    head.font = { bold: true };
    head.commit();
    for (const row of kept) {
      sheet.addRow(row.map((cell) => (typeof cell === 'string' ? guardText(cell) : cell))).commit();
    }
    sheet.commit();
  }
  await workbook.commit();
  return new Uint8Array(sink.take());
}

/** Sheets as a file; a CSV file has the first alone. */
export function writeSheets(format: 'csv' | 'xlsx', sheets: readonly OutSheet[]): Promise<Uint8Array> {
  const [first] = sheets;
  if (first === undefined) throw new Error('a file without a sheet');
  return format === 'csv' ? Promise.resolve(writeCsv(first)) : writeXlsx(sheets);
}
