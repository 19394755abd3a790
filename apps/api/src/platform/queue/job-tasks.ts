import { Injectable } from '@nestjs/common';
import type { Actor } from '../auth/actor.js';

/** A job as its task sees it. */
export interface RunningJob {
  readonly id: string;
  readonly actor: Actor;
  readonly parameters: Readonly<Record<string, unknown>>;
  /**
   * Tells how far it is. Throws when the job was cancelled, handed back, or taken over by another worker: let it through.
   * @param step code of what is being done
   */
  progress(step: string, done: number, total: number): Promise<void>;
  /** Runs `work` in one transaction of the person who asked for the job. */
  transaction<T>(work: () => Promise<T>): Promise<T>;
  /** The last transaction: the work, the result and the end of the job are committed together, or nothing is. */
  finish(work: () => Promise<unknown>): Promise<void>;
}

/** Does the work of one kind of job. What it returns is the result, unless it ended with `finish`. */
export type JobTask = (job: RunningJob) => Promise<unknown>;

/** Which task does which kind of job. Modules add theirs when they are made. */
@Injectable()
export class JobTasks {
  private readonly tasks = new Map<string, JobTask>();

  add(kind: string, task: JobTask): void {
    if (this.tasks.has(kind)) throw new Error(`two tasks for jobs of kind ${kind}`);
    this.tasks.set(kind, task);
  }

  find(kind: string): JobTask | undefined {
    return this.tasks.get(kind);
  }
}
