/**
 * Compresses the files that pages load, once, as well as can be: beside each lie a `.br` and a `.gz`, which the front door sends as
 * they are. What would hardly become smaller is left alone.
 */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';

const FOLDER = path.join(import.meta.dirname, '../.next/static');
const COMPRESSED = new Set(['.js', '.css', '.json', '.svg', '.txt', '.wasm']);
const LEAST_BYTES = 512;
const WORTH = 0.95;
const AT_ONCE = 4;

const compress = {
  /** @param {Buffer} bytes */
  '.br': (bytes) =>
    promisify(brotliCompress)(bytes, {
      params: {
        [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
        [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
      },
    }),
  /** @param {Buffer} bytes */
  '.gz': (bytes) => promisify(gzip)(bytes, { level: constants.Z_BEST_COMPRESSION }),
};

/** @param {string} file */
async function compressFile(file) {
  const bytes = await readFile(file);
  if (bytes.length < LEAST_BYTES) return;
  for (const [ending, run] of Object.entries(compress)) {
    const smaller = await run(bytes);
    if (smaller.length < bytes.length * WORTH) await writeFile(file + ending, smaller);
  }
}

const entries = await readdir(FOLDER, { recursive: true, withFileTypes: true });
const waiting = entries
  .filter((entry) => entry.isFile() && COMPRESSED.has(path.extname(entry.name)))
  .map((entry) => path.join(entry.parentPath, entry.name));
await Promise.all(
  Array.from({ length: AT_ONCE }, async () => {
    for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) await compressFile(file);
  }),
);
