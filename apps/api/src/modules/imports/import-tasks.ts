import { isDeepStrictEqual } from 'node:util';
import { Injectable } from '@nestjs/common';
import { importField, importWords, type ImportEntity, type ImportMapping, type ImportReading } from '@repo/contracts';
import { z } from 'zod';
import { AppError } from '../../platform/errors/app-error.js';
import { KeptFiles } from '../../platform/files/kept-files.js';
import { JobTasks, type RunningJob } from '../../platform/queue/index.js';
import { readApart, runApart, UnreadableFile, unpackInTurns } from '../../platform/sheets/index.js';
import { CommitImportService } from './commit-import.service.js';
import type { Described, Undescribed } from './describe.thread.js';
import { assertMapping } from './assert-mapping.js';
import {
  fingerprintOfReading,
  hasRows,
  headerRowsOf,
  moveHeadings,
  otherHeaderRows,
  recallMapping,
  suggestMapping,
} from './describe-file.js';
import { HEADINGS_FIRST } from './in-time.js';
import { ImportWriterRepository } from './import-writer.repository.js';
import { ImportsRepository, type ImportRecord } from './imports.repository.js';
import { planImport, type Plan } from './plan-import.js';
import { Snapshots } from './snapshot.js';
import { UndoImportService } from './undo-import.service.js';

const DESCRIBE = new URL('./describe.thread.js', import.meta.url);
const describe = (file: Undescribed): Promise<Described> => runApart(DESCRIBE, file);

const parametersSchema = z.object({ importId: z.uuid() });
/** Of a file that was read before: the rows in which its headings stand. */
const readParametersSchema = parametersSchema.extend({
  headerRows: z.array(z.object({ sheet: z.int(), headerRow: z.int() })).optional(),
});
type HeaderRows = NonNullable<z.infer<typeof readParametersSchema>['headerRows']>;

/** What a record is found through, so that it must be read as well. */
const THROUGH: Record<ImportEntity, readonly ImportEntity[]> = {
  'component-type': [],
  customer: [],
  site: ['customer'],
  machine: ['customer', 'site', 'station'],
  station: ['customer', 'site', 'machine'],
  'power-unit': ['customer', 'site', 'machine'],
  circuit: ['customer', 'site', 'machine', 'station', 'power-unit'],
  'installed-component': ['customer', 'site', 'machine', 'power-unit', 'circuit'],
  'm-code': ['customer', 'site', 'machine', 'station'],
  signal: ['customer', 'site', 'machine', 'station', 'power-unit', 'circuit', 'm-code', 'installed-component'],
  wire: ['customer', 'site', 'machine', 'signal'],
  fixture: ['customer'],
  'fixture-element': ['customer', 'fixture'],
  operation: ['customer', 'fixture'],
  'fixture-fitting': ['customer', 'site', 'machine', 'station', 'fixture'],
  'target-setting': ['customer', 'site', 'machine', 'circuit'],
  'setup-record': ['customer', 'site', 'machine', 'circuit'],
};

function entitiesOf(mapping: ImportMapping): Set<ImportEntity> {
  const entities = new Set<ImportEntity>();
  for (const sheet of mapping.sheets.filter((one) => one.use)) {
    for (const { field } of [...sheet.columns, ...sheet.constants]) {
      const entity = field === null ? undefined : importField(field)?.entity;
      if (entity !== undefined) for (const through of [entity, ...THROUGH[entity]]) entities.add(through);
    }
  }
  return entities;
}

/** The work of an import in the background: reading, trial run, commit, undo. */
@Injectable()
export class ImportTasks {
  constructor(
    private readonly imports: ImportsRepository,
    private readonly snapshots: Snapshots,
    private readonly writer: ImportWriterRepository,
    private readonly committing: CommitImportService,
    private readonly undoing: UndoImportService,
    private readonly files: KeptFiles,
    tasks: JobTasks,
  ) {
    tasks.add('import-read', (job) => this.read(job));
    tasks.add('import-check', (job) => this.check(job));
    tasks.add('import-commit', (job) => this.commit(job));
    tasks.add('import-undo', (job) => this.undo(job));
  }

  private async read(job: RunningJob): Promise<void> {
    const { importId, headerRows } = readParametersSchema.parse(job.parameters);
    if (headerRows !== undefined) {
      await this.readAgain(job, importId, headerRows);
      return;
    }
    const { record, bytes } = await job.transaction(async () => {
      const found = await this.find(importId);
      return { record: found, bytes: await this.bytesOf(found.fileId) };
    });
    await job.progress('reading', 0, 3);
    let packed: Uint8Array;
    let found: Described;
    try {
      packed = await readApart(bytes, record.fileName);
      await job.progress('describing', 1, 3);
      found = await describe({ packed });
    } catch (error) {
      if (!(error instanceof UnreadableFile)) throw error;
      await this.refuse(job, importId, error);
      return;
    }
    const { fingerprint } = found;
    if (!found.reading.sheets.some(hasRows)) {
      await this.refuse(job, importId, new UnreadableFile('nothing'));
      return;
    }
    await job.progress('keeping', 2, 3);
    await job.finish(async () => {
      const rowsFileId = await this.files.put({
        name: `${record.fileName}.json.gz`,
        mediaType: 'application/gzip',
        bytes: packed,
      });
      const remembered = await this.imports.findMapping(fingerprint);
      const reading = remembered === null ? found.reading : await this.readAsBefore(packed, found.reading, remembered);
      const mapping =
        remembered === null ? suggestMapping(reading, record.fileName) : recallMapping(remembered, reading);
      await this.imports.update(importId, { state: 'read', rowsFileId, reading, fingerprint, mapping });
      return { importId, sheets: reading.sheets.length, rows: reading.sheets.reduce((sum, one) => sum + one.rows, 0) };
    });
  }

  private async readAgain(job: RunningJob, importId: string, headerRows: HeaderRows): Promise<void> {
    const { record, packed } = await job.transaction(async () => {
      const found = await this.find(importId);
      return { record: found, packed: await this.bytesOf(found.rowsFileId) };
    });
    const { reading: before, mapping: kept } = record;
    if (before === null || kept === null) throw new AppError('import.state');
    const moved: ImportMapping = {
      ...kept,
      sheets: kept.sheets.map((one) => ({
        ...one,
        headerRow: headerRows.find(({ sheet }) => sheet === one.sheet)?.headerRow ?? one.headerRow,
      })),
    };
    await job.progress('describing', 1, 3);
    const { reading } = await describe({ packed, headerRows: headerRowsOf(moved) }).catch((error: unknown) => {
      if (!(error instanceof UnreadableFile)) throw error;
      throw new AppError('import.too-large', { detail: HEADINGS_FIRST });
    });
    const mapping = moveHeadings(moved, before, reading);
    assertMapping(reading, mapping);
    await job.progress('keeping', 2, 3);
    await job.finish(async () => {
      await this.imports.update(importId, { state: 'read', reading, mapping });
      return { importId, sheets: reading.sheets.length, rows: reading.sheets.reduce((sum, one) => sum + one.rows, 0) };
    });
  }

  /** With the headings where somebody said for the last such file, if the same headings stand there in this one. */
  private async readAsBefore(
    packed: Uint8Array,
    reading: ImportReading,
    remembered: ImportMapping,
  ): Promise<ImportReading> {
    const rows = otherHeaderRows(remembered, reading);
    if (rows === null) return reading;
    const moved = await describe({ packed, headerRows: rows });
    return (await this.imports.findMapping(moved.fingerprint)) === null ? reading : moved.reading;
  }

  /** The file is at fault, not the job: the import says so, and the job fails with the same words. */
  private async refuse(job: RunningJob, importId: string, error: UnreadableFile): Promise<never> {
    await job.transaction(() => this.imports.update(importId, { state: 'unreadable' }));
    throw new AppError('import.unreadable', {
      detail: importWords('unreadable', error.code, error.params),
      errors: [
        {
          pointer: '/file',
          field: 'file',
          got: JSON.stringify(error.params),
          needs: 'a CSV or XLSX file',
          code: error.code,
        },
      ],
    });
  }

  private async check(job: RunningJob): Promise<void> {
    const { importId } = parametersSchema.parse(job.parameters);
    await job.finish(async () => {
      const record = await this.find(importId);
      const plan = await this.plan(record, job);
      const sheets = new Map(record.reading?.sheets.map((sheet, index) => [sheet.name, index]) ?? []);
      await job.progress('keeping', plan.rows.length, plan.rows.length);
      await this.imports.replaceRows(importId, plan.rows, sheets);
      if (await this.isSaid(record)) await this.remember(record);
      await this.imports.update(importId, { state: 'checked', counts: plan.counts, planDigest: plan.digest });
      return { importId, ...plan.counts.rows };
    });
  }

  /** What was only suggested and tried, nobody has said: it is suggested again for the next file, until it is written. */
  private async isSaid({ fingerprint, reading, mapping, fileName }: ImportRecord): Promise<boolean> {
    if (reading === null || mapping === null) return false;
    const isMoved = fingerprint !== fingerprintOfReading(reading);
    if (isMoved || !isDeepStrictEqual(mapping, suggestMapping(reading, fileName))) return true;
    return (await this.imports.findMapping(fingerprint)) !== null;
  }

  private async remember({ fingerprint, reading, mapping }: ImportRecord): Promise<void> {
    if (mapping === null || reading === null) return;
    await this.imports.rememberMapping(fingerprint, mapping);
    // The headings may stand where somebody said: by these the next file is recognised as well.
    await this.imports.rememberMapping(fingerprintOfReading(reading), mapping);
  }

  private async commit(job: RunningJob): Promise<void> {
    const { importId } = parametersSchema.parse(job.parameters);
    await job.finish(async () => {
      await this.writer.lock(importId);
      const record = await this.find(importId);
      const plan = await this.plan(record, job);
      // What was shown is what is written: anything else is shown again first.
      if (plan.digest !== record.planDigest) throw new AppError('import.changed');
      const { circuits } = await this.committing.write(importId, plan.recs, job.actor, (step, done, total) =>
        job.progress(step, done, total),
      );
      await this.remember(record);
      await this.imports.update(importId, { state: 'committed', committedAt: new Date() });
      return { importId, records: plan.recs.length, circuits };
    });
  }

  private async undo(job: RunningJob): Promise<void> {
    const { importId } = parametersSchema.parse(job.parameters);
    await job.finish(async () => {
      const result = await this.undoing.run(importId, (step, done, total) => job.progress(step, done, total));
      await this.imports.update(importId, { state: 'undone', undoneAt: new Date() });
      return { importId, ...result };
    });
  }

  private async plan(record: ImportRecord, job: RunningJob): Promise<Plan> {
    if (record.reading === null || record.mapping === null) throw new AppError('import.state');
    await job.progress('loading', 0, 1);
    const file = await unpackInTurns(await this.bytesOf(record.rowsFileId));
    const snapshot = await this.snapshots.read(entitiesOf(record.mapping));
    return planImport(file, record.reading, record.mapping, { snapshot }, (done, total) =>
      job.progress('comparing', done, total),
    );
  }

  private async find(importId: string): Promise<ImportRecord> {
    const record = await this.imports.find(importId);
    if (record === null) throw new AppError('request.not_found');
    return record;
  }

  private async bytesOf(fileId: string | null): Promise<Uint8Array> {
    const bytes = fileId === null ? null : await this.files.get(fileId);
    if (bytes === null) throw new AppError('import.state');
    return bytes;
  }
}
