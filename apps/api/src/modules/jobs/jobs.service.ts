import { Injectable } from '@nestjs/common';
import { jobSchema, PROBLEM_CODES, type InputOf, type Job, type routes } from '@repo/contracts';
import { Audit } from '../../platform/audit/audit.js';
import { AppError, notFound } from '../../platform/errors/app-error.js';
import { Cursors } from '../../platform/http/cursor.js';
import { JobQueue, jobParameters, jobProblem, jobResult } from '../../platform/queue/index.js';
import { JobsRepository, type JobRow } from './jobs.repository.js';

type Jobs = typeof routes.jobs;

/** Before that the pace says too little. */
const ETA_FROM_S = 10;
/** What follows from a change that is made already: left undone, lists would go on saying what is no longer so. */
const FOLLOWS = new Set(['standings-refresh']);

/** Seconds left at the pace so far; null while nothing can be said. */
export function etaOf(row: Pick<JobRow, 'state' | 'progress' | 'runningS'>): number | null {
  const { state, progress, runningS } = row;
  if (state !== 'running' || runningS === null || runningS < ETA_FROM_S || progress < 0.01) return null;
  return Math.round((runningS * (1 - progress)) / progress);
}

/** A job of which a document cannot be read is shown all the same, and says so as its problem. */
function readDocuments(row: JobRow): Pick<Job, 'parameters' | 'result' | 'problem'> {
  try {
    return {
      parameters: jobParameters.read(row.parameters, row.kind),
      result: jobResult.read(row.result, row.kind),
      problem: jobProblem.read(row.problem, row.kind),
    };
  } catch (error) {
    if (!(error instanceof AppError)) throw error;
    const { title } = PROBLEM_CODES[error.code];
    return { parameters: {}, result: null, problem: { code: error.code, title, detail: error.message } };
  }
}

@Injectable()
export class JobsService {
  constructor(
    private readonly repository: JobsRepository,
    private readonly queue: JobQueue,
    private readonly audit: Audit,
    private readonly cursors: Cursors,
  ) {}

  /** Starts work in the background, in the transaction of the request; the job as it waits. */
  async start(kind: string, parameters: Record<string, unknown>, isShort: boolean): Promise<Job> {
    return this.get(await this.queue.start(kind, parameters, isShort));
  }

  async list(query: InputOf<Jobs['list']>['query']) {
    const after = this.cursors.read('jobs', query.cursor, 2);
    const rows = await this.repository.list({ state: query.state, kind: query.kind }, after, query.limit);
    const page = this.cursors.page('jobs', rows, query.limit, (row) => [row.createdAt.toISOString(), row.id]);
    return { items: page.rows.map((row) => this.toJob(row)), nextCursor: page.nextCursor };
  }

  async get(id: string): Promise<Job> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    return this.toJob(row);
  }

  async cancel(id: string): Promise<Job> {
    const row = await this.repository.find(id);
    if (row === null) throw notFound();
    if (FOLLOWS.has(row.kind)) {
      throw new AppError('request.conflict', {
        detail: 'It follows from a change that is made: it cannot be left undone.',
      });
    }
    if (!this.isAllowedToCancel(row)) throw new AppError('job.not-yours');
    if (!(await this.repository.cancel(id))) throw new AppError('job.ended');
    await this.audit.record({ action: 'cancel', entity: 'job', entityId: id, changes: { kind: row.kind } });
    return this.get(id);
  }

  private isAllowedToCancel(row: JobRow): boolean {
    const { membershipId, role } = this.repository.asker;
    return row.requestedBy === membershipId || role === 'administrator';
  }

  private toJob(row: JobRow): Job {
    const isOpen = row.state === 'queued' || row.state === 'running';
    return {
      id: row.id,
      kind: row.kind,
      state: jobSchema.shape.state.parse(row.state),
      progress: row.progress,
      step: row.step,
      done: row.done,
      total: row.total,
      etaS: etaOf(row),
      attempts: row.attempts,
      requestedByName: row.requestedByName,
      canCancel: isOpen && row.cancelRequestedAt === null && !FOLLOWS.has(row.kind) && this.isAllowedToCancel(row),
      createdAt: row.createdAt.toISOString(),
      startedAt: row.startedAt?.toISOString() ?? null,
      finishedAt: row.finishedAt?.toISOString() ?? null,
      cancelRequestedAt: row.cancelRequestedAt?.toISOString() ?? null,
      ...readDocuments(row),
      version: row.version,
    };
  }
}
