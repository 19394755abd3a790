import path from 'node:path';
import { ROOT } from '../support/paths.mjs';
import { run, runTool, TOOL_ARGS } from '../support/run.mjs';
import { findAreaProblems } from './areas.mjs';
import { buildTyped } from './build.mjs';
import { runJest } from './jest.mjs';
import { runStep, runSteps } from './step.mjs';

/** @typedef {import('./step.mjs').Step} Step */
/** @typedef {import('./step.mjs').StepOutcome} StepOutcome */

/** Folders that hold code. */
const CODE = ['apps', 'packages', 'prisma', 'test'];
const CONFIG = path.join('packages', 'config');

/** @type {Step} */
const DOCS = {
  name: 'docs of calculations',
  run: () => runJest({ projects: ['calc'], patterns: ['doc-contract'] }),
};

/** @typedef {{ passed: number, failed: number }} Counts */

/**
 * Everything that can be said about the code without running the product, cheap and broad first.
 * @param {(text: string) => void} tell
 * @returns {Promise<Counts>} of steps
 */
export function runChecks(tell) {
  return runAll([...listBuiltSteps(), DOCS, ...listTextSteps()], 2, tell);
}

/**
 * Those of them that read what is built, one after the other; the tests of calculations, which follow, hold the one about their documentation.
 * @param {(text: string) => void} tell
 */
export function runBuiltChecks(tell) {
  return runAll(listBuiltSteps(), 1, tell);
}

/**
 * Those of them that read the sources alone, one after the other: they need no build, and can run beside it.
 * @param {(text: string) => void} tell
 */
export function runTextChecks(tell) {
  return runAll(listTextSteps(), 1, tell);
}

/**
 * @param {Step[]} steps
 * @param {number} atOnce two cores are what a small build machine has
 * @param {(text: string) => void} tell
 * @returns {Promise<Counts>}
 */
async function runAll(steps, atOnce, tell) {
  const outcomes = await runSteps(steps, atOnce, tell);
  const failed = outcomes.filter(({ isOk }) => !isOk).length;
  return { passed: outcomes.length - failed, failed };
}

/**
 * Builds packages and API: types and arrows of everything else are read from what they build to.
 * @param {(text: string) => void} tell
 * @returns {Promise<Counts>}
 */
export async function runPackagesStep(tell) {
  const { isOk } = await runStep({ name: 'types and build of packages and API', run: buildTyped }, tell);
  return { passed: isOk ? 1 : 0, failed: isOk ? 0 : 1 };
}

/** @returns {Step[]} */
function listBuiltSteps() {
  const arrows = ['--config', path.join(CONFIG, 'dependency-rules.cjs'), '--output-type', 'err'];
  return [
    { name: 'types and lint', run: checkTypesAndLint },
    { name: 'arrows', run: () => runTool('dependency-cruiser/bin/dependency-cruise.mjs', [...arrows, ...CODE]) },
    { name: 'arrows between packages', run: () => runTool('turbo/bin/turbo', ['boundaries']) },
    {
      name: 'dead code',
      run: () => runTool('knip/bin/knip.js', ['--config', path.join(CONFIG, 'knip.json'), '--no-progress']),
    },
  ];
}

/** @returns {Step[]} */
function listTextSteps() {
  const prettier = ['--check', '--log-level', 'warn', '.'];
  return [
    { name: 'format', run: () => runTool('prettier/bin/prettier.cjs', prettier) },
    { name: 'area names', run: checkAreas },
  ];
}

/** Next writes declarations of its routes and of style files; a fresh clone has none. */
async function checkTypesAndLint() {
  const typegen = await runTool('next/dist/bin/next', ['typegen', 'apps/web']);
  const program = path.join(import.meta.dirname, 'types-and-lint.mjs');
  return typegen.isOk ? run(process.execPath, [...TOOL_ARGS, program, ...CODE]) : typegen;
}

/** @returns {Promise<StepOutcome>} */
async function checkAreas() {
  const problems = findAreaProblems(ROOT);
  return { isOk: problems.length === 0, output: problems.join('\n'), seconds: 0 };
}
