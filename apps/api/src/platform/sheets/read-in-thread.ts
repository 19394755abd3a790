import { Worker } from 'node:worker_threads';
import { gunzipSync } from 'node:zlib';
import { LIMITS, UnreadableFile, type SheetFile } from './sheet-model.js';

const THREAD = new URL('./reader-thread.js', import.meta.url);

type Answer = { packed: Uint8Array } | { problem: { code: string; params: Record<string, string | number> } };

/**
 * Reads a CSV or XLSX file in a thread with bounded memory and time.
 * @returns the file, packed as `unpackSheets` takes it
 * @throws UnreadableFile
 */
export async function readInThread(bytes: Uint8Array, name: string): Promise<Uint8Array> {
  const thread = new Worker(THREAD, {
    workerData: { bytes, name },
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
    return answer.packed;
  } finally {
    clearTimeout(timer);
    await thread.terminate();
  }
}

export const unpackSheets = (packed: Uint8Array): SheetFile =>
  JSON.parse(gunzipSync(packed).toString('utf8')) as SheetFile;
