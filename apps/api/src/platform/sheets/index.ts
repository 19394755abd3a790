export { unpackInTurns, unpackSheets } from './packed-sheets.js';
export { readApart, runApart } from './run-apart.js';
export {
  columnLetter,
  UnreadableFile,
  type Cell,
  type NumberWithUnit,
  type Row,
  type Sheet,
  type SheetFile,
} from './sheet-model.js';
export { openSheet, PartSink, type StreamColumn } from './stream-sheet.js';
export { writeSheets } from './workbook.js';
export { CSV_MEDIA_TYPE, XLSX_MEDIA_TYPE, type OutCell, type OutSheet } from './write-sheets.js';
