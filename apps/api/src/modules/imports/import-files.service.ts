import { Injectable } from '@nestjs/common';
import {
  columnsOfEntity,
  headerOf,
  importWords,
  type ImportEntity,
  type ImportField,
  type ImportFinding,
} from '@repo/contracts';
import { getKindInfo } from '@repo/quantity';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { KeptFiles } from '../../platform/files/kept-files.js';
import {
  CSV_MEDIA_TYPE,
  unpackSheets,
  writeCsv,
  writeXlsx,
  XLSX_MEDIA_TYPE,
  type Cell,
  type OutCell,
  type OutSheet,
} from '../../platform/sheets/index.js';
import { fillMerged, headingsOf } from './describe-file.js';
import { WHY_REFUSED } from './headings.js';
import { ImportsRepository } from './imports.repository.js';

type Format = 'csv' | 'xlsx';
const PAGE = 5_000;
const MEDIA_TYPES = { csv: CSV_MEDIA_TYPE, xlsx: XLSX_MEDIA_TYPE };

const unitOf = (field: ImportField): string | undefined =>
  field.kind === undefined ? undefined : getKindInfo(field.kind).displayUnits[0]?.symbol;

const toOut = (cell: Cell | undefined): OutCell => {
  if (cell === undefined || cell === null || typeof cell !== 'object') return cell ?? null;
  return cell.t === 'formula' ? toOut(cell.v) : cell.v;
};

const say = (finding: ImportFinding): string => {
  const words = importWords('finding', finding.code, finding.params);
  return finding.cell === null ? words : `${finding.cell}: ${words}`;
};

async function write(name: string, format: Format, sheets: readonly OutSheet[]) {
  const [first] = sheets;
  if (first === undefined) throw new Error('a file without a sheet');
  const bytes = format === 'csv' ? writeCsv(first) : await writeXlsx(sheets);
  return { bytes, mediaType: MEDIA_TYPES[format], fileName: `${name}.${format}` };
}

/** Files that an import gives out: templates, and the rows that were refused with their reasons. */
@Injectable()
export class ImportFilesService {
  constructor(
    private readonly imports: ImportsRepository,
    private readonly files: KeptFiles,
  ) {}

  template(entity: ImportEntity, format: Format) {
    const headers = columnsOfEntity(entity).map((field) => headerOf(field, unitOf(field)));
    return write(`kedge-${entity}-template`, format, [{ name: entity, headers, rows: [] }]);
  }

  async refused(id: string, format: Format) {
    const record = await this.imports.find(id);
    if (record === null) throw notFound();
    if (record.counts === null || record.rowsFileId === null) throw new AppError('import.state');
    const packed = await this.files.get(record.rowsFileId);
    if (packed === null) throw new AppError('import.state');
    const file = unpackSheets(packed);
    const reasons = new Map<number, Map<number, string>>();
    for (let after: number | null = null; ;) {
      const rows: Awaited<ReturnType<ImportsRepository['listRows']>> = await this.imports.listRows(
        id,
        'refused',
        after,
        PAGE,
      );
      for (const row of rows) {
        const sheet = reasons.get(row.sheet) ?? new Map<number, string>();
        sheet.set(row.row, (row.findings as ImportFinding[]).map(say).join('; '));
        reasons.set(row.sheet, sheet);
      }
      after = rows.at(-1)?.sequence ?? null;
      if (rows.length < PAGE) break;
    }
    if (format === 'csv' && reasons.size > 1) {
      throw invalidField('format', format, 'xlsx: the refused rows are in several sheets');
    }
    // A workbook keeps all sheets of the file, some with headings alone: mended and sent again it is known by them.
    const isWhole = format === 'xlsx' && reasons.size > 0;
    const sheets = file.sheets.flatMap((sheet, index): OutSheet[] => {
      const byRow = reasons.get(index) ?? new Map<number, string>();
      if (byRow.size === 0 && !isWhole) return [];
      const headerRow = record.reading?.sheets[index]?.headerRow ?? 0;
      fillMerged(sheet);
      const headings = headingsOf(sheet, headerRow);
      // A list that was downloaded, mended in part and refused again has the column already.
      const kept = headings.flatMap((heading, column) => (heading === WHY_REFUSED ? [] : [column]));
      const rows = sheet.rows
        .filter((row) => byRow.has(row.n))
        .map((row) => [...kept.map((column) => toOut(row.cells[column])), byRow.get(row.n) ?? '']);
      return [{ name: sheet.name, headers: [...kept.map((column) => headings[column] ?? ''), WHY_REFUSED], rows }];
    });
    const name = `${record.fileName.replace(/\.[^.]+$/, '')}-refused`;
    return write(name, format, sheets.length > 0 ? sheets : [{ name: 'refused', headers: [WHY_REFUSED], rows: [] }]);
  }
}
