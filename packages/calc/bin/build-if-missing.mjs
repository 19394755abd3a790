// Compiles the packages that the calculations stand on when nobody has yet, without a word on standard output.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const packages = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

export function buildIfMissing() {
  for (const name of ['quantity', 'calc']) {
    if (existsSync(path.join(packages, name, 'dist/index.js'))) continue;
    const compiler = path.resolve(packages, '../node_modules/typescript/bin/tsc');
    const run = spawnSync(process.execPath, [compiler, '-p', path.join(packages, name, 'tsconfig.json')], {
      stdio: ['ignore', 2, 2],
    });
    if (run.status !== 0) {
      process.stderr.write(`could not build packages/${name}: run npm ci, then npm run build\n`);
      process.exit(2);
    }
  }
}
