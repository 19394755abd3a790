import { Injectable } from '@nestjs/common';
import {
  columnsOfEntity,
  headerOf,
  importWords,
  type ImportEntity,
  type ImportField,
  type ImportRemark,
} from '@repo/contracts';
import { getKindInfo } from '@repo/quantity';
import { ComputePool } from '../../platform/compute/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { KeptFiles } from '../../platform/files/kept-files.js';
import { CSV_MEDIA_TYPE, writeSheets, XLSX_MEDIA_TYPE } from '../../platform/sheets/index.js';
import { rowRemarks } from './import-documents.js';
import { ImportsRepository } from './imports.repository.js';
import { inTime } from './in-time.js';
import type { RefusedRows } from './refused-rows.thread.js';

type Format = 'csv' | 'xlsx';
const WRITE_REFUSED = new URL('./refused-rows.thread.js', import.meta.url);
const PAGE = 5_000;
const MEDIA_TYPES = { csv: CSV_MEDIA_TYPE, xlsx: XLSX_MEDIA_TYPE };

const unitOf = (field: ImportField): string | undefined =>
  field.kind === undefined ? undefined : getKindInfo(field.kind).displayUnits[0]?.symbol;

const say = (remark: ImportRemark): string => {
  const words = importWords('remark', remark.code, remark.params);
  return remark.cell === null ? words : `${remark.cell}: ${words}`;
};

/** Files that an import gives out: templates, and the rows that were refused with their reasons. */
@Injectable()
export class ImportFilesService {
  constructor(
    private readonly imports: ImportsRepository,
    private readonly files: KeptFiles,
    private readonly pool: ComputePool,
  ) {}

  async template(entity: ImportEntity, format: Format) {
    const headers = columnsOfEntity(entity).map((field) => headerOf(field, unitOf(field)));
    const bytes = await writeSheets(format, [{ name: entity, headers, rows: [] }]);
    return { bytes, mediaType: MEDIA_TYPES[format], fileName: `kedge-${entity}-template.${format}` };
  }

  async refused(id: string, format: Format) {
    const record = await this.imports.find(id);
    if (record === null) throw notFound();
    if (record.counts === null || record.rowsFileId === null) throw new AppError('import.state');
    const packed = await this.files.get(record.rowsFileId);
    if (packed === null) throw new AppError('import.state');
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
        sheet.set(row.row, rowRemarks.read(row.findings, `row ${row.row}`).map(say).join('; '));
        reasons.set(row.sheet, sheet);
      }
      after = rows.at(-1)?.sequence ?? null;
      if (rows.length < PAGE) break;
    }
    if (format === 'csv' && reasons.size > 1) {
      throw invalidField('format', format, 'xlsx: the refused rows are in several sheets');
    }
    const headerRows = record.reading?.sheets.map((sheet) => sheet.headerRow) ?? [];
    const question: RefusedRows = { packed, headerRows, reasons, format };
    const writing = this.pool.run<Uint8Array>(WRITE_REFUSED, question);
    const bytes = await inTime(writing, 'Take the refused rows as CSV, or mend them in fewer rows at a time.');
    const name = record.fileName.replace(/\.[^.]+$/, '');
    return { bytes, mediaType: MEDIA_TYPES[format], fileName: `${name}-refused.${format}` };
  }
}
