import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { CheckFile } from '../scripts/check-row.mjs';
import { renderCalculations } from '../scripts/write-calculations.mjs';
import { describeRegistry } from '../src/registry/registry.js';

const read = (file: string): string => readFileSync(path.join(import.meta.dirname, file), 'utf8');

test('CALCULATIONS.md is what the registry and the check rows say now', async () => {
  const checks = JSON.parse(read('data/checks.json')) as CheckFile;
  expect(read('../CALCULATIONS.md')).toBe(await renderCalculations(describeRegistry(), checks));
});
