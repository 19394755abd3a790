import { Worker } from 'node:worker_threads';
import { LIMITS, UnreadableFile } from './sheet-model.js';

const THREAD = new URL('./reader-thread.js', import.meta.url);
const READ_FILE = new URL('./read-file.js', import.meta.url);

type Answer = { result: unknown } | { problem: { code: string; params: Record<string, string | number> } };

/**
 * Runs the default export of a file in a thread of its own with bounded memory and time: for what a whole file of somebody's takes.
 * @throws UnreadableFile
 */
export async function runInReaderThread<R>(work: URL, data: unknown): Promise<R> {
  const thread = new Worker(THREAD, {
    workerData: { work: work.href, data },
    resourceLimits: { maxOldGenerationSizeMb: LIMITS.heapMb },
  });
  let timer: NodeJS.Timeout | undefined;
  try {
    const answer = await new Promise<Answer>((resolve, reject) => {
      thread.once('message', resolve);
      thread.once('error', (error: Error & { code?: string }) => {
        reject(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new UnreadableFile('too-much-memory') : error);
      });
      timer = setTimeout(() => reject(new UnreadableFile('took-too-long')), LIMITS.seconds * 1000);
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
  runInReaderThread(READ_FILE, { bytes, name });
