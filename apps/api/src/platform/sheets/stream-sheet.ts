import { Writable } from 'node:stream';
import { loadExcel } from './load-excel.js';
import { guardText } from './sheet-model.js';
import { toCsvCell, type OutCell } from './write-sheets.js';

/** What a column of a streamed sheet is: its heading and, in a workbook, how its cells are shown. */
export interface StreamColumn {
  header: string;
  /** number format of a workbook, such as `yyyy-mm-dd` */
  numFmt?: string;
}

/** A sheet that is written row by row; nothing of a row is kept once it is written. */
export interface SheetStream {
  write(cells: readonly OutCell[]): void;
  end(): Promise<void>;
}

/** Bytes as they come, until they are taken. */
export class PartSink extends Writable {
  private parts: Buffer[] = [];
  size = 0;

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: () => void): void {
    this.parts.push(chunk);
    this.size += chunk.length;
    done();
  }

  take(): Buffer {
    const bytes = Buffer.concat(this.parts);
    this.parts = [];
    this.size = 0;
    return bytes;
  }
}

function openCsv(columns: readonly StreamColumn[], sink: Writable): SheetStream {
  const line = (cells: readonly OutCell[]): string => `${cells.map(toCsvCell).join(',')}\r\n`;
  // By the byte order mark spreadsheet programs know UTF-8.
  sink.write(`\uFEFF${line(columns.map(({ header }) => header))}`);
  return {
    write: (cells) => void sink.write(line(cells)),
    end: () => new Promise((resolve) => sink.end(resolve)),
  };
}

async function openXlsx(name: string, columns: readonly StreamColumn[], sink: Writable): Promise<SheetStream> {
  const { stream } = await loadExcel();
  // Shared strings would have to be kept until the end.
  const workbook = new stream.xlsx.WorkbookWriter({ stream: sink, useStyles: true, useSharedStrings: false });
  const sheet = workbook.addWorksheet(name.slice(0, 31), { views: [{ state: 'frozen', ySplit: 1 }] });
  sheet.columns = columns.map(({ header, numFmt }) => ({
    width: Math.min(40, Math.max(12, header.length + 2)),
    ...(numFmt === undefined ? {} : { style: { numFmt } }),
  }));
  const head = sheet.addRow(columns.map(({ header }) => guardText(header)));
  head.font = { bold: true };
  head.commit();
  return {
    write: (cells) => sheet.addRow(cells.map((cell) => (typeof cell === 'string' ? guardText(cell) : cell))).commit(),
    end: () => workbook.commit(),
  };
}

export async function openSheet(
  format: 'csv' | 'xlsx',
  name: string,
  columns: readonly StreamColumn[],
  sink: Writable,
): Promise<SheetStream> {
  return format === 'csv' ? openCsv(columns, sink) : openXlsx(name, columns, sink);
}
