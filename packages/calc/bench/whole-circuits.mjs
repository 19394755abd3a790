/** Circuits of the tests' own builder, for benchmarks: its sources are TypeScript, and only their types are taken away. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import ts from 'typescript';

const TESTS = path.join(path.dirname(fileURLToPath(import.meta.url)), '../test');

/**
 * Writes a builder without its types, and what it is made of beside it.
 * @param {string} folder
 * @param {string} name
 * @param {Set<string>} written
 */
function writeSource(folder, name, written = new Set()) {
  if (written.has(name)) return;
  written.add(name);
  const { outputText } = ts.transpileModule(readFileSync(path.join(TESTS, `${name}.ts`), 'utf8'), {
    compilerOptions: { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2022 },
  });
  const built = pathToFileURL(path.join(TESTS, '../dist/')).href;
  writeFileSync(path.join(folder, `${name}.js`), outputText.replaceAll("'../src/", `'${built}`));
  for (const [, part] of outputText.matchAll(/from '\.\/([\w-]+)\.js'/g)) writeSource(folder, String(part), written);
}

/**
 * Seeded circuits of which every time is computed, so that none is spared its transient: pumps, oil and lines are all known.
 * @param {number} count
 */
export async function listWholeCircuits(count) {
  const folder = mkdtempSync(path.join(tmpdir(), 'kedge-bench-'));
  try {
    writeFileSync(path.join(folder, 'package.json'), '{ "type": "module" }');
    writeSource(folder, 'facts-builder');
    const { aRandomCircuit } = await import(pathToFileURL(path.join(folder, 'facts-builder.js')).href);
    const { actuate } = await import('../dist/circuit-checks/actuation.js');
    const { toMovementInput } = await import('../dist/circuit-facts/movement-input.js');
    const whole = [];
    for (let seed = 0; whole.length < count; seed += 1) {
      const facts = aRandomCircuit(seed);
      if (actuate(toMovementInput(facts).actuation).warm !== null) whole.push(facts);
    }
    return whole;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
