import { Injectable } from '@nestjs/common';
import { maySeeTable, startExportBodySchema } from '@repo/contracts';
import { AppError } from '../../platform/errors/app-error.js';
import { JobTasks, type RunningJob } from '../../platform/queue/index.js';
import { PartSink } from '../../platform/sheets/index.js';
import { ExportsRepository } from './exports.repository.js';
import { ExportsService, KEPT_DAYS, toFileName, toExportedTable } from './exports.service.js';

/** About how large a part is; more is never held than a page of rows and one part. */
const PART_BYTES = 1024 * 1024;

/** An export in the background: written page by page into parts of the database, so that its size costs no memory. */
@Injectable()
export class ExportTask {
  constructor(
    private readonly exports: ExportsService,
    private readonly repository: ExportsRepository,
    tasks: JobTasks,
  ) {
    tasks.add('export', (job) => this.run(job));
  }

  private run(job: RunningJob): Promise<void> {
    const { table, format, pressureUnit } = startExportBodySchema.parse(job.parameters);
    // The role is the one of now: it may have changed since the job was asked for.
    if (!maySeeTable(table, job.actor.role)) throw new AppError('session.role');
    return job.finish(async () => {
      await this.repository.removeParts(job.id, KEPT_DAYS);
      const total = await this.repository.count(toExportedTable(table));
      const sink = new PartSink();
      let parts = 0;
      let bytes = 0;
      const keep = async (): Promise<void> => {
        const part = sink.take();
        bytes += part.length;
        await this.repository.addPart(job.id, parts, part);
        parts += 1;
      };
      const rows = await this.exports.write(table, { format, pressureUnit }, sink, async (written) => {
        await job.progress('rows', Math.min(written, total), total);
        // Whoever packs the workbook does so between pages.
        await new Promise((resolve) => setImmediate(resolve));
        if (sink.size >= PART_BYTES) await keep();
      });
      await keep();
      await this.exports.note(job.id, table, format, rows);
      return { table, format, fileName: toFileName(table, format), rows, bytes, parts };
    });
  }
}
