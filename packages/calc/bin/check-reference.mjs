#!/usr/bin/env node
// npm run check:reference: every check value against the calculations; prints the table, ends with 1 on a miss.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildIfMissing } from './build-if-missing.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));

buildIfMissing();
const { calculate, findCalculation } = await import('../dist/index.js');
const { loadSolver } = await import('../dist/holding/load-solver.js');
const { checkRow } = await import('../scripts/check-row.mjs');
/** @type {import('../scripts/check-row.mjs').CheckFile} */
const { rows } = JSON.parse(readFileSync(path.join(here, '../test/data/checks.json'), 'utf8'));
const solver = await loadSolver();

/** @type {Map<string, { rows: number, error: number, kinds: Set<string> }>} */
const table = new Map();
/** @type {string[]} */
const misses = [];
for (const row of rows) {
  const line = table.get(row.calculation) ?? { rows: 0, error: 0, kinds: new Set() };
  table.set(row.calculation, line);
  line.rows += 1;
  line.kinds.add(row.kind);
  if (!findCalculation(row.calculation) && row.problem?.field !== 'id') {
    misses.push(`${row.id}: not in the registry`);
    continue;
  }
  const { failures, largestError } = checkRow(row, calculate(row.calculation, row.inputs, { solver }));
  line.error = Math.max(line.error, largestError);
  misses.push(...failures.map((failure) => `${row.id}: ${failure}`));
}

console.log(`${'calculation'.padEnd(28)}${'rows'.padStart(5)}  ${'largest relative error'.padEnd(24)}sources`);
for (const [id, line] of [...table].sort(([a], [b]) => (a < b ? -1 : 1))) {
  console.log(
    `${id.padEnd(28)}${String(line.rows).padStart(5)}  ${line.error.toExponential(1).padEnd(24)}${[...line.kinds].sort().join(', ')}`,
  );
}
for (const miss of misses) console.log(`MISS ${miss}`);
console.log(`${rows.length} rows, ${misses.length} misses`);
process.exitCode = misses.length === 0 ? 0 : 1;
