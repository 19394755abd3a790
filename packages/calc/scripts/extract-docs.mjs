// Writes src/registry/docs.generated.ts from the docstrings: node packages/calc/scripts/extract-docs.mjs
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import prettier from 'prettier';
import { listSourceFiles, toCalculationDoc } from './doc-parser.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const source = path.join(here, '../src');
const target = path.join(source, 'registry/docs.generated.ts');

/** The generated file's text, formatted as the repository is. */
export async function renderDocs() {
  /** @type {Record<string, import('./doc-parser.mjs').CalculationDoc>} */
  const docs = {};
  for (const file of listSourceFiles(source)) {
    const doc = toCalculationDoc(file);
    if (doc) docs[path.basename(file, '.ts')] = doc;
  }
  const text = `// Made by scripts/extract-docs.mjs from the docstrings of the calculation functions: change those, then run it.
import type { CalculationDoc } from './docs.types.js';

export const DOCS: Readonly<Record<string, CalculationDoc>> = ${JSON.stringify(docs, null, 2)};
`;
  return prettier.format(text, { ...(await prettier.resolveConfig(target)), parser: 'typescript' });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(target, await renderDocs());
