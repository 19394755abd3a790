import { parentPort, workerData } from 'node:worker_threads';
import { UnreadableFile } from './sheet-model.js';

/** One piece of work on one file, in a thread of its own with bounded memory: a file that is too much ends the thread, not the service. */
async function run(): Promise<void> {
  const { work, data } = workerData as { work: string; data: unknown };
  try {
    const { default: perform } = (await import(work)) as { default: (data: unknown) => unknown };
    parentPort?.postMessage({ result: await perform(data) });
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    parentPort?.postMessage({ problem: { code: error.code, params: error.params } });
  }
}

await run();
