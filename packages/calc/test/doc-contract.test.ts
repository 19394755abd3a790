import path from 'node:path';
import { readFileSync } from 'node:fs';
import { listSourceFiles } from '../scripts/doc-parser.mjs';
import { renderDocs } from '../scripts/extract-docs.mjs';
import { describeRegistry } from '../src/registry/registry.js';
import { checkDocs } from './doc-contract.js';

const here = import.meta.dirname;
const source = path.join(here, '../src');

describe('docstrings of calculations', () => {
  const ids = describeRegistry().map(({ id }) => id);
  const files = listSourceFiles(source).filter((file) => ids.includes(path.basename(file, '.ts')));

  test('every registry entry has a file named after it', () => {
    expect(files.map((file) => path.basename(file, '.ts')).sort()).toEqual([...ids].sort());
  });

  test.each(files.map((file) => [path.basename(file), file]))('%s says what the code does', async (_name, file) => {
    expect(await checkDocs(file)).toEqual([]);
  });

  test('the registry shows the docstrings as they are now', async () => {
    expect(readFileSync(path.join(source, 'registry/docs.generated.ts'), 'utf8')).toBe(await renderDocs());
  });

  test('a drifted formula, a wrong unit, a missing tag and a wrong example are caught', async () => {
    const problems = (await checkDocs(path.join(here, 'fixtures/drifted.ts'))).join('\n');
    for (const part of [
      'formula line "F = p * A / 2"',
      'boreM: comment says mm',
      '@range is missing',
      'example wrong: forceN is',
      'residual "forceN - 1"',
      'areaM2: comment must read',
    ]) {
      expect(problems).toContain(part);
    }
  });
});
