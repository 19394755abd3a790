import { Injectable } from '@nestjs/common';
import {
  importOutcomeSchema,
  importStateSchema,
  type Import,
  type ImportMapping,
  type ImportReading,
  type ImportSummary,
  type InputOf,
  type Job,
  type routes,
} from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import { ComputePool } from '../../platform/compute/index.js';
import { AppError, invalidField, notFound } from '../../platform/errors/app-error.js';
import { KeptFiles } from '../../platform/files/kept-files.js';
import { Cursors } from '../../platform/http/cursor.js';
import { assertVersion } from '../../platform/http/etag.js';
import { JobsService } from '../jobs/index.js';
import { openQuestions } from './collect-records.js';
import { assertMapping } from './assert-mapping.js';
import type { Described, Undescribed } from './describe.thread.js';
import { headerRowsOf, moveHeadings } from './describe-file.js';
import { rowRecords, rowRemarks } from './import-documents.js';
import { HEADINGS_FIRST, inTime } from './in-time.js';
import { ImportsRepository, type ImportRecord } from './imports.repository.js';

type Imports = typeof routes.imports;
type State = Import['state'];

const DESCRIBE = new URL('./describe.thread.js', import.meta.url);

/** A file of so many bytes, or rows, is done with within moments. */
const FEW_BYTES = 256 * 1024;
const FEW_ROWS = 500;
/** So many cells are looked at again, under other headings, within a request. */
const FEW_CELLS = 100_000;

/** A step whose job ended without finishing it is where it was before. */
const BACK: Partial<Record<State, State>> = {
  reading: 'new',
  checking: 'read',
  committing: 'checked',
  undoing: 'committed',
};

export function stateOf(row: Pick<ImportRecord, 'state' | 'jobState' | 'rowsFileId'>): State {
  const state = importStateSchema.parse(row.state);
  const isLeft = row.jobState === 'failed' || row.jobState === 'cancelled';
  // Read once already: only its headings were looked for elsewhere.
  if (isLeft && state === 'reading' && row.rowsFileId !== null) return 'read';
  return isLeft ? (BACK[state] ?? state) : state;
}

const cellsOf = (reading: ImportReading): number =>
  reading.sheets.reduce((sum, sheet) => sum + sheet.rows * sheet.columns.length, 0);

@Injectable()
export class ImportsService {
  constructor(
    private readonly repository: ImportsRepository,
    private readonly jobs: JobsService,
    private readonly files: KeptFiles,
    private readonly audit: Audit,
    private readonly cursors: Cursors,
    private readonly pool: ComputePool,
  ) {}

  async list(query: InputOf<Imports['list']>['query']) {
    const after = this.cursors.read('imports', query.cursor, 2);
    const rows = await this.repository.list(after, query.limit);
    const page = this.cursors.page('imports', rows, query.limit, (row) => [row.createdAt.toISOString(), row.id]);
    return { items: page.rows.map((row): ImportSummary => this.toImport(row)), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Import> {
    const row = await this.find(id);
    const remembered = row.fingerprint === '' ? null : await this.repository.findMapping(row.fingerprint);
    return { ...this.toImport(row), isRemembered: remembered !== null };
  }

  async create(body: InputOf<Imports['create']>['body']): Promise<Import> {
    await this.repository.insert(body.id, body.fileName);
    await this.audit.record({ action: 'create', entity: 'import', entityId: body.id, changes: body });
    return this.get(body.id);
  }

  async upload(id: string, bytes: Uint8Array): Promise<Job> {
    const row = await this.findAt(id, ['new', 'unreadable']);
    if (bytes.length === 0) throw new AppError('import.unreadable', { detail: 'The file is empty.' });
    const fileId = await this.files.put({ name: row.fileName, mediaType: 'application/octet-stream', bytes });
    const job = await this.jobs.start(
      'import-read',
      { importId: id, fileName: row.fileName },
      bytes.length <= FEW_BYTES,
    );
    await this.repository.update(id, { state: 'reading', fileId, jobId: job.id });
    return job;
  }

  async update(id: string, version: number, body: InputOf<Imports['update']>['body']): Promise<Import> {
    const row = await this.findAt(id, ['read', 'checked']);
    assertVersion(row.version, version);
    if (row.reading === null || row.rowsFileId === null) throw new AppError('import.state');
    let { mapping } = body;
    let reading = row.reading;
    const isOtherHeader = mapping.sheets.some((one) => reading.sheets[one.sheet]?.headerRow !== one.headerRow);
    if (isOtherHeader && cellsOf(reading) > FEW_CELLS) return this.readAgain(row, reading, mapping);
    if (isOtherHeader) {
      const packed = await this.files.get(row.rowsFileId);
      if (packed === null) throw new AppError('import.state');
      const question: Undescribed = { packed, headerRows: headerRowsOf(mapping) };
      const looking = this.pool.run<Described>(DESCRIBE, question);
      ({ reading } = await inTime(looking, HEADINGS_FIRST));
      mapping = moveHeadings(mapping, row.reading, reading);
    }
    assertMapping(reading, mapping);
    await this.repository.update(id, { state: 'read', mapping, counts: null, planDigest: '', reading });
    return this.get(id);
  }

  /** A large file is looked at under other headings by a job: it takes longer than anybody waits for an answer. */
  private async readAgain(
    { id, fileName }: ImportRecord,
    reading: ImportReading,
    asked: ImportMapping,
  ): Promise<Import> {
    const headerRows = asked.sheets.map(({ sheet, headerRow }) => ({ sheet, headerRow }));
    const sheets = asked.sheets.map((one) => ({
      ...one,
      headerRow: reading.sheets[one.sheet]?.headerRow ?? one.headerRow,
    }));
    const mapping = { ...asked, sheets };
    assertMapping(reading, mapping);
    const job = await this.jobs.start('import-read', { importId: id, fileName, headerRows }, false);
    await this.repository.update(id, { state: 'reading', mapping, counts: null, planDigest: '', jobId: job.id });
    return this.get(id);
  }

  async check(id: string): Promise<Job> {
    const row = await this.findAt(id, ['read', 'checked']);
    if (row.reading === null || row.mapping === null) throw new AppError('import.state');
    const questions = openQuestions(row.reading, row.mapping);
    if (questions.length > 0) {
      throw new AppError('import.question', {
        errors: questions.map((question) => ({
          pointer: `/mapping/sheets/${question.sheet}/columns/${question.column}`,
          field: question.header,
          got: question.examples.join(', '),
          needs: question.kind === 'date-order' ? 'which comes first, day or month' : 'what the separator is',
          code: question.kind,
        })),
      });
    }
    if (!row.mapping.sheets.some((sheet) => sheet.use && sheet.columns.some((column) => column.field !== null))) {
      throw invalidField('mapping', 'no column', 'at least one column that is used');
    }
    const job = await this.start('import-check', row);
    await this.repository.update(id, { state: 'checking', jobId: job.id });
    return job;
  }

  private start(kind: string, { id, fileName, reading }: ImportRecord): Promise<Job> {
    const rows = reading?.sheets.reduce((sum, sheet) => sum + sheet.rows, 0) ?? Infinity;
    return this.jobs.start(kind, { importId: id, fileName }, rows <= FEW_ROWS);
  }

  async rows(id: string, query: InputOf<Imports['rows']>['query']) {
    const row = await this.find(id);
    const after = this.cursors.read(`import-rows ${id}`, query.cursor, 1);
    const found = await this.repository.listRows(
      id,
      query.outcome,
      after === null ? null : Number(after[0]),
      query.limit + 1,
    );
    const page = this.cursors.page(`import-rows ${id}`, found, query.limit, (one) => [one.sequence]);
    const items = page.rows.map((one) => ({
      sequence: one.sequence,
      sheet: row.reading?.sheets[one.sheet]?.name ?? '',
      row: one.row,
      outcome: importOutcomeSchema.parse(one.outcome),
      records: rowRecords.read(one.records, `row ${one.row}`),
      filled: one.filled,
      findings: rowRemarks.read(one.findings, `row ${one.row}`),
    }));
    return { items, nextCursor: page.nextCursor };
  }

  async commit(id: string, body: InputOf<Imports['commit']>['body']): Promise<Job> {
    const row = await this.findAt(id, ['checked']);
    const refused = row.counts?.rows.refused ?? 0;
    if (refused > 0 && !body.withoutRefused) {
      throw new AppError('import.refused-rows', {
        detail: `${refused} rows are refused. Mend them, or leave them out knowingly.`,
      });
    }
    const job = await this.start('import-commit', row);
    await this.repository.update(id, { state: 'committing', jobId: job.id });
    return job;
  }

  async undo(id: string): Promise<Job> {
    const row = await this.findAt(id, ['committed']);
    const job = await this.start('import-undo', row);
    await this.repository.update(id, { state: 'undoing', jobId: job.id });
    return job;
  }

  private async find(id: string): Promise<ImportRecord> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return row;
  }

  /** The import, kept for this transaction, when it is at one of these steps. */
  private async findAt(id: string, states: readonly State[]): Promise<ImportRecord> {
    const row = await this.repository.find(id, true);
    if (row === null) throw notFound();
    const state = stateOf(row);
    if (!states.includes(state)) {
      throw new AppError('import.state', { detail: `It is at “${state}”; this needs: ${states.join(', ')}.` });
    }
    return row;
  }

  private toImport(row: ImportRecord): Import {
    return {
      id: row.id,
      fileName: row.fileName,
      state: stateOf(row),
      reading: row.reading,
      mapping: row.mapping,
      isRemembered: false,
      questions: row.reading === null || row.mapping === null ? [] : openQuestions(row.reading, row.mapping),
      counts: row.counts,
      jobId: row.jobId,
      createdByName: row.createdByName,
      createdAt: row.createdAt.toISOString(),
      committedAt: row.committedAt?.toISOString() ?? null,
      undoneAt: row.undoneAt?.toISOString() ?? null,
      version: row.version,
    };
  }
}
