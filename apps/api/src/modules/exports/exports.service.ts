import { Injectable } from '@nestjs/common';
import {
  ALARM_KIND,
  EXPORT_ROWS_AT_ONCE,
  EXPORT_TABLES,
  exportTableSchema,
  maySeeTable,
  type ExportTable,
  type Job,
  type StartExportBody,
} from '@repo/contracts';
import { uuidv7 } from 'uuidv7';
import { z } from 'zod';
import { Audit } from '../../platform/audit/audit.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import type { DownloadedFile } from '../../platform/http/files.js';
import { CSV_MEDIA_TYPE, openSheet, PartSink, XLSX_MEDIA_TYPE } from '../../platform/sheets/index.js';
import { JobsService } from '../jobs/index.js';
import type { ExportedTable } from './export-columns.js';
import { ExportsRepository } from './exports.repository.js';
import { FLAT_TABLES } from './flat-tables.js';
import { toImportableTable } from './importable-tables.js';
import { toCells, toHeadings, type CellStyle } from './to-cells.js';

/** Days for which the file of an export is kept. */
export const KEPT_DAYS = 7;
const PAGE = 1_000;
/** A table of so few rows is written within moments. */
const FEW_ROWS = 5_000;
/** So many kinds get a column of their own; the document beside them has all. */
const MOST_KINDS = 200;
const MEDIA_TYPES = { csv: CSV_MEDIA_TYPE, xlsx: XLSX_MEDIA_TYPE };

const exportResultSchema = z.object({
  table: exportTableSchema,
  format: z.enum(['csv', 'xlsx']),
  fileName: z.string(),
  rows: z.int(),
  bytes: z.int(),
  parts: z.int(),
});

export function toExportedTable(table: ExportTable): ExportedTable {
  const row = EXPORT_TABLES[table];
  const source = 'entity' in row ? toImportableTable(row.entity) : FLAT_TABLES[table];
  if (source === undefined) throw new Error(`nobody has said where ${table} comes from`);
  return source;
}

export const toFileName = (table: ExportTable, format: string): string =>
  `kedge-${table}-${new Date().toISOString().slice(0, 10)}.${format}`;

/** What is told of each page as it is written. */
export type OnPage = (rows: number, sink: PartSink) => Promise<void>;

/** Tables as files: the rows that row security lets the asker see. */
@Injectable()
export class ExportsService {
  constructor(
    private readonly repository: ExportsRepository,
    private readonly jobs: JobsService,
    private readonly audit: Audit,
  ) {}

  async download(table: ExportTable, query: { format: 'csv' | 'xlsx'; pressureUnit: string }): Promise<DownloadedFile> {
    this.assertSees(table);
    const sink = new PartSink();
    const rows = await this.write(table, query, sink, (written) => {
      if (written > EXPORT_ROWS_AT_ONCE) throw new AppError('export.too-large');
      return Promise.resolve();
    });
    await this.note(uuidv7(), table, query.format, rows);
    return {
      bytes: sink.take(),
      mediaType: MEDIA_TYPES[query.format],
      fileName: toFileName(table, query.format),
    };
  }

  async start(body: StartExportBody): Promise<Job> {
    this.assertSees(body.table);
    return this.jobs.start('export', body, await this.repository.isAtMost(toExportedTable(body.table), FEW_ROWS));
  }

  /** The file of a finished export, for whoever may see its table. */
  async file(jobId: string): Promise<DownloadedFile> {
    const job = await this.repository.findJob(jobId, KEPT_DAYS);
    if (job === null) throw notFound();
    if (!job.isFinishedExport) throw new AppError('export.no-file');
    const { table, parts, format, fileName } = exportResultSchema.parse(job.result);
    this.assertSees(table);
    return { bytes: this.repository.readParts(jobId, parts), mediaType: MEDIA_TYPES[format], fileName };
  }

  /** Writes a whole table, page after page; what is written can be taken from the sink after each. How many rows. */
  async write(table: ExportTable, style: CellStyle, sink: PartSink, onPage: OnPage): Promise<number> {
    const source = await this.spread(toExportedTable(table));
    const sheet = await openSheet(style.format, source.title, toHeadings(source, style), sink);
    let written = 0;
    for (let after: readonly string[] | null = null; ;) {
      const page: Awaited<ReturnType<ExportsRepository['page']>> = await this.repository.page(source, after, PAGE);
      for (const row of page.rows) sheet.write(toCells(source, row, style));
      written += page.rows.length;
      await onPage(written, sink);
      if (page.rows.length < PAGE) break;
      after = page.last;
    }
    await sheet.end();
    return written;
  }

  /** With a column for each kind of what is counted. */
  private async spread(source: ExportedTable): Promise<ExportedTable> {
    if (source.counts === undefined) return source;
    const { header, sql } = source.counts;
    const kinds = await this.repository.listKinds(source, sql, MOST_KINDS);
    // A name that no rule of kinds lets pass never becomes part of a statement.
    const columns = kinds
      .filter((kind) => ALARM_KIND.test(kind))
      .map((kind) => ({
        header: `${header}: ${kind}`,
        type: 'integer' as const,
        sql: `(${sql} ->> '${kind}')::float8`,
      }));
    return { ...source, columns: [...source.columns, ...columns] };
  }

  /** Data that leaves is written down. */
  note(id: string, table: ExportTable, format: string, rows: number): Promise<void> {
    const { customerId } = this.repository.asker;
    return this.audit.record({
      action: 'export',
      entity: 'export',
      entityId: id,
      customerId,
      changes: { table, format, rows },
    });
  }

  private assertSees(table: ExportTable): void {
    // Not yours is not there.
    if (!maySeeTable(table, this.repository.asker.role)) throw notFound();
  }
}
