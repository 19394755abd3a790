import { Worker } from 'node:worker_threads';
import { LIMITS, UnreadableFile } from './sheet-model.js';

const THREAD = new URL('./reader-thread.js', import.meta.url);
const READ_FILE = new URL('./read-file.js', import.meta.url);

type Answer = { result: unknown } | { problem: { code: string; params: Record<string, string | number> } };

/** Memory and time that a thread may take. */
interface Budget {
  readonly heapMb: number;
  readonly seconds: number;
}

const MIB = 1_048_576;
/** What reading a file of no size may take, and each MiB more: several times what lists that people keep take on a busy machine. */
const AT_LEAST: Budget = { heapMb: 256, seconds: 20 };
const EACH_MIB: Budget = { heapMb: 512, seconds: 20 };

/**
 * What a file of so many bytes may take: a few thousand of them can name millions of cells, and would keep the place of everybody's short
 * jobs for minutes.
 */
export const budgetOf = (bytes: number): Budget => ({
  heapMb: Math.round(Math.min(LIMITS.heapMb, AT_LEAST.heapMb + (bytes / MIB) * EACH_MIB.heapMb)),
  seconds: Math.min(LIMITS.seconds, AT_LEAST.seconds + (bytes / MIB) * EACH_MIB.seconds),
});

/**
 * Runs the default export of a file in a thread of its own with bounded memory and time: for what a whole file of somebody's takes.
 * @throws UnreadableFile
 */
export async function runInReaderThread<R>(work: URL, data: unknown, budget: Budget = LIMITS): Promise<R> {
  const thread = new Worker(THREAD, {
    workerData: { work: work.href, data },
    resourceLimits: { maxOldGenerationSizeMb: budget.heapMb },
  });
  let timer: NodeJS.Timeout | undefined;
  try {
    const answer = await new Promise<Answer>((resolve, reject) => {
      thread.once('message', resolve);
      thread.once('error', (error: Error & { code?: string }) => {
        reject(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new UnreadableFile('too-much-memory') : error);
      });
      timer = setTimeout(() => reject(new UnreadableFile('took-too-long')), budget.seconds * 1000);
    });
    if ('problem' in answer) throw new UnreadableFile(answer.problem.code, answer.problem.params);
    return answer.result as R;
  } finally {
    clearTimeout(timer);
    await thread.terminate();
  }
}

/**
 * Reads a CSV or XLSX file.
 * @returns the file, packed as `unpackSheets` takes it
 * @throws UnreadableFile
 */
export const readInThread = (bytes: Uint8Array, name: string): Promise<Uint8Array> =>
  runInReaderThread(READ_FILE, { bytes, name }, budgetOf(bytes.length));
