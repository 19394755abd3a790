import path from 'node:path';
import { ROOT } from '../support/paths.mjs';
import { runTool } from '../support/run.mjs';
import { findAreaProblems } from './areas.mjs';
import { buildTyped } from './build.mjs';
import { runJest } from './jest.mjs';
import { runStep, runSteps } from './step.mjs';

/** @typedef {import('./step.mjs').Step} Step */
/** @typedef {import('./step.mjs').StepOutcome} StepOutcome */

/** Folders that hold code. */
const CODE = ['apps', 'packages', 'prisma', 'test'];
const CONFIG = path.join('packages', 'config');

/** What the build has not checked the types of already: folders with a tsconfig.json, or the file itself. */
const TYPED = ['packages/launcher', 'packages/calc/tsconfig.tools.json', 'prisma', 'apps/web', 'test'];

/** @typedef {{ passed: number, failed: number }} Counts */

/**
 * Everything that can be said about the code without running the product, cheap and broad first.
 * @param {(text: string) => void} tell
 * @param {object} [options]
 * @param {number} [options.atOnce] two cores are what a small build machine has
 * @returns {Promise<Counts>} of steps
 */
export async function runChecks(tell, { atOnce = 2 } = {}) {
  const outcomes = await runSteps(listSteps(), atOnce, tell);
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
function listSteps() {
  const prettier = ['--check', '--log-level', 'warn', '.'];
  const eslint = [
    '--config',
    path.join(CONFIG, 'eslint.config.mjs'),
    '--max-warnings',
    '0',
    '--no-error-on-unmatched-pattern',
  ];
  const arrows = ['--config', path.join(CONFIG, 'dependency-rules.cjs'), '--output-type', 'err'];
  return [
    { name: 'lint', run: () => runTool('eslint/bin/eslint.js', [...eslint, ...CODE]) },
    { name: 'format', run: () => runTool('prettier/bin/prettier.cjs', prettier) },
    ...TYPED.map(toTypesStep),
    { name: 'arrows', run: () => runTool('dependency-cruiser/bin/dependency-cruise.mjs', [...arrows, ...CODE]) },
    { name: 'arrows between packages', run: () => runTool('turbo/bin/turbo', ['boundaries']) },
    {
      name: 'dead code',
      run: () => runTool('knip/bin/knip.js', ['--config', path.join(CONFIG, 'knip.json'), '--no-progress']),
    },
    { name: 'area names', run: checkAreas },
    { name: 'docs of calculations', run: () => runJest({ projects: ['calc'], patterns: ['doc-contract'] }) },
  ];
}

/**
 * @param {string} workspace
 * @returns {Step}
 */
function toTypesStep(workspace) {
  const checkTypes = () => runTool('typescript/bin/tsc', ['-p', workspace, '--noEmit']);
  if (workspace !== 'apps/web') return { name: `types ${workspace}`, run: checkTypes };
  // Next writes declarations of its routes and of style files; a fresh clone has none.
  const run = async () => {
    const typegen = await runTool('next/dist/bin/next', ['typegen', 'apps/web']);
    return typegen.isOk ? checkTypes() : typegen;
  };
  return { name: `types ${workspace}`, run };
}

/** @returns {Promise<StepOutcome>} */
async function checkAreas() {
  const problems = findAreaProblems(ROOT);
  return { isOk: problems.length === 0, output: problems.join('\n'), seconds: 0 };
}
