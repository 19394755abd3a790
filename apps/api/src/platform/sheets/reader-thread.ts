import { parentPort, workerData } from 'node:worker_threads';
import { gzipSync } from 'node:zlib';
import { readCsv } from './read-csv.js';
import { readXlsx } from './read-xlsx.js';
import { UnreadableFile } from './sheet-model.js';

/** One file, read in a thread of its own with bounded memory: a file that is too much ends the thread, not the service. */
async function read(): Promise<void> {
  const { bytes, name } = workerData as { bytes: Uint8Array; name: string };
  const buffer = Buffer.from(bytes);
  try {
    const isZip = buffer.length > 4 && buffer.readUInt32LE(0) === 0x04034b50;
    // The old binary workbook format, and encrypted new ones.
    if (buffer.length > 8 && buffer.readUInt32LE(0) === 0xe011cfd0) throw new UnreadableFile('old-format');
    const file = isZip ? await readXlsx(buffer) : readCsv(buffer, name);
    const packed = gzipSync(JSON.stringify(file), { level: 1 });
    parentPort?.postMessage({ packed });
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    parentPort?.postMessage({ problem: { code: error.code, params: error.params } });
  }
}

await read();
