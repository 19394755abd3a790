import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { CheckFile } from '../scripts/check-row.mjs';
import { CALCULATION_VERSION } from '../src/calculation-version.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { loadSolver } from '../src/holding/load-solver.js';
import { calculate } from '../src/registry/registry.js';
import { aRandomCircuit } from './facts-builder.js';

const FILE = path.join(import.meta.dirname, 'data/results.json');
const CIRCUITS = 150;
/** Digits that hold from one processor and one version of Node to another. */
const DIGITS = 9;

interface Results {
  calculationVersion: string;
  /** what was computed -> hash of its result */
  results: Record<string, string>;
}

function hashOf(result: unknown): string {
  const text = JSON.stringify(result, (_name, value: unknown) =>
    typeof value === 'number' ? Number(value.toPrecision(DIGITS)) : value,
  );
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}

async function compute(): Promise<Record<string, string>> {
  const solver = await loadSolver();
  const { rows } = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/checks.json'), 'utf8')) as CheckFile;
  const ofRows = rows.map(({ id, calculation, inputs }) => [id, hashOf(calculate(calculation, inputs, { solver }))]);
  const ofCircuits = Array.from({ length: CIRCUITS }, (_, seed) => [
    `circuit ${seed}`,
    hashOf(proveFacts(aRandomCircuit(seed))),
  ]);
  return Object.fromEntries([...ofRows, ...ofCircuits]) as Record<string, string>;
}

/**
 * What a sizing record was computed by is its calculation version: a result that changes under the same version makes every record lie.
 * After a change that is meant, raise CALCULATION_VERSION and run this test with KEDGE_KEEP_RESULTS=1: it then keeps the new results, and
 * refuses to under the old version.
 */
test('results change with the calculation version alone', async () => {
  const kept = JSON.parse(readFileSync(FILE, 'utf8')) as Results;
  const results = await compute();
  if (process.env.KEDGE_KEEP_RESULTS === '1' && kept.calculationVersion !== CALCULATION_VERSION) {
    writeFileSync(FILE, `${JSON.stringify({ calculationVersion: CALCULATION_VERSION, results }, null, 2)}\n`);
    return;
  }
  expect(kept.calculationVersion).toBe(CALCULATION_VERSION);
  expect(results).toEqual(kept.results);
});
