import { availableParallelism } from 'node:os';
import { Inject, Injectable, type OnApplicationShutdown } from '@nestjs/common';
import { Piscina } from 'piscina';
import { ENV, type Env } from '../../config/env.js';
import { AppError } from '../errors/app-error.js';
import { Askers, type Asker } from './askers.js';
import { FairLine } from '../fair-line.js';

/** Who waits with more than these is told to come back. */
const BOUNDS = { person: 16, organisation: 48, all: 160 };
/** Whoever has waited so long is told so, and makes room. */
const LONGEST_WAIT_MS = 20_000;
const COME_BACK_S = 3;
/** So many times longer may take what nobody waits for before a page: a busy moment makes it late, and does not fail it. */
const PATIENCE = 12;
const LARGEST_HEAP_MB = 512;
/** The threads step back: the event loop goes first wherever the system knows precedence. */
const NICENESS = 10;

/** A file whose default export computes what it is given: all that goes in and out can be cloned. */
export type ComputeThread = URL;

interface Task {
  readonly thread: ComputeThread;
  readonly data: unknown;
  readonly asker: Asker;
  resolve(result: unknown): void;
  reject(error: unknown): void;
  /** ends the wait, in the line or in a thread */
  readonly ending: AbortController;
  waitTimer?: NodeJS.Timeout;
}

const isOutOfMemory = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY';

/**
 * Where calculations run that may take longer than others can wait: in a few threads, in fair turns, each for so long and
 * no longer, and only as long as somebody waits for it.
 */
@Injectable()
export class ComputePool implements OnApplicationShutdown {
  private readonly line = new FairLine<Task>(BOUNDS);
  private readonly threads: number;
  private readonly limitMs: number;
  private running = 0;
  private pool: Piscina | null = null;

  constructor(
    @Inject(ENV) env: Env,
    private readonly askers: Askers,
  ) {
    this.threads = env.COMPUTE_THREADS ?? Math.max(2, availableParallelism() - 1);
    this.limitMs = env.COMPUTE_SECONDS * 1000;
  }

  /**
   * Computes in a thread, in the turn of whoever asks.
   * @throws AppError service.busy without room in the line, calculation.too-much at the limit of time or memory
   */
  run<R>(thread: ComputeThread, data: unknown): Promise<R> {
    const asker = this.askers.current;
    return new Promise<R>((resolve, reject) => {
      const task: Task = {
        thread,
        data,
        asker,
        resolve: (result) => resolve(result as R),
        reject,
        ending: new AbortController(),
      };
      if (asker.signal?.aborted === true) {
        reject(this.nobodyWaits());
        return;
      }
      if (!this.line.join(asker, task)) {
        reject(new AppError('service.busy', { retryAfterS: COME_BACK_S }));
        return;
      }
      const leave = (error: AppError): void => {
        clearTimeout(task.waitTimer);
        this.line.leave(asker, task);
        task.ending.abort(error);
        reject(error);
      };
      task.waitTimer = setTimeout(
        () => leave(new AppError('service.busy', { retryAfterS: COME_BACK_S })),
        LONGEST_WAIT_MS,
      );
      asker.signal?.addEventListener('abort', () => leave(this.nobodyWaits()), {
        once: true,
        signal: task.ending.signal,
      });
      this.startNext();
    });
  }

  async onApplicationShutdown(): Promise<void> {
    await this.pool?.destroy();
  }

  private startNext(): void {
    while (this.running < this.threads) {
      const task = this.line.take();
      if (task === undefined) return;
      this.running += 1;
      void this.perform(task).finally(() => {
        this.running -= 1;
        this.startNext();
      });
    }
  }

  private async perform(task: Task): Promise<void> {
    clearTimeout(task.waitTimer);
    const limitMs = this.limitMs * (task.asker.isPatient ? PATIENCE : 1);
    const timer = setTimeout(() => task.ending.abort(this.tookTooLong(limitMs)), limitMs);
    try {
      this.pool ??= this.begin();
      const { signal } = task.ending;
      const result: unknown = await this.pool.run(task.data, { filename: task.thread.href, signal });
      task.resolve(result);
    } catch (error) {
      const reason: unknown = task.ending.signal.reason;
      if (reason instanceof AppError) task.reject(reason);
      else task.reject(isOutOfMemory(error) ? this.tookTooMuch() : error);
    } finally {
      clearTimeout(timer);
      // Nothing is left to be ended: whoever waited no longer listens for the asker's leaving.
      task.ending.abort();
    }
  }

  private begin(): Piscina {
    return new Piscina({
      minThreads: 0,
      maxThreads: this.threads,
      idleTimeout: 60_000,
      niceIncrement: NICENESS,
      resourceLimits: { maxOldGenerationSizeMb: LARGEST_HEAP_MB },
      // A thread that is ended while it loads a module by `require` ends the whole process with it; `import`, which it falls back to, does not.
      execArgv: ['--no-experimental-require-module'],
    });
  }

  private nobodyWaits(): AppError {
    return new AppError('service.unavailable', { detail: 'Nobody waits for it any more.', retryAfterS: COME_BACK_S });
  }

  private tookTooLong(limitMs: number): AppError {
    return new AppError('calculation.too-much', {
      detail: `It was ended after ${limitMs / 1000} seconds. Shorter lists, coarser steps or smaller figures take less.`,
    });
  }

  private tookTooMuch(): AppError {
    return new AppError('calculation.too-much', {
      detail:
        'It was ended because it took too much memory. Shorter lists, coarser steps or smaller figures take less.',
    });
  }
}
