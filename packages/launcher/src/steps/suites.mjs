import { buildPackages } from './build.mjs';
import { runBuiltChecks } from './checks.mjs';
import { hasTestFiles, runJest } from './jest.mjs';
import { runStep } from './step.mjs';

/** Tests that measure time, or change sources that others read: what ran beside them would be measured or changed as well. */
const MEASURED = [
  'test/launcher/start-again',
  'test/web/calculation-times',
  'test/api/guesses',
  'test/api/compute',
  'test/imports/large-files',
  'test/launcher/dev',
];

/** Tests of calculations that try thousands of circuits, and reach no branch that the others do not. */
const TRIED_OFTEN = [
  'packages/calc/test/safe-side',
  'packages/calc/test/milling-loads',
  'packages/calc/test/proof/recomputed',
  'packages/calc/test/way-out.test',
];

/**
 * @typedef {object} Suite
 * @property {string} name
 * @property {string[]} projects of packages/config/jest.config.mjs
 * @property {string} [covered]
 * @property {string[]} [patterns]
 * @property {string[]} [without]
 * @property {number} [workers]
 */

/** @type {readonly Suite[]} what computes without a pause; then what starts programs one after the other */
const COMPUTING = [
  // What its own suite must run to the last branch; what tries thousands of circuits takes three times as long when every branch is counted.
  { name: 'calc', projects: ['calc'], covered: 'packages/calc/src', without: TRIED_OFTEN },
  { name: 'calc, tried often', projects: ['calc'], patterns: TRIED_OFTEN },
  { name: 'units', projects: ['quantity', 'contracts', 'drawing', 'api-unit', 'web-unit', 'architecture'] },
  { name: 'launcher', projects: ['launcher'], without: MEASURED, workers: 1 },
];

/** @type {readonly Suite[]} what waits for a database or a browser half of its time, in one run, so that no core waits for the last file of each */
const WAITING = [{ name: 'api and web', projects: ['api', 'web'], without: MEASURED, workers: 2 }];

/** @type {readonly Suite[]} */
const ALONE = [{ name: 'measured', projects: ['api', 'launcher', 'web'], patterns: MEASURED, workers: 1 }];

/**
 * Checks and suites in two lanes: what computes or starts programs, one after the other, beside what mostly waits. What is
 * measured comes last, alone.
 * @param {(text: string) => void} tell
 * @returns {Promise<{ passed: number, failed: number }>} counts of checks and tests
 */
export async function runChecksAndSuites(tell) {
  const computing = async () => [await runBuiltChecks(tell), ...(await runSuites(COMPUTING, tell))];
  const lanes = await Promise.all([computing(), runSuites(WAITING, tell)]);
  const all = [...lanes.flat(), ...(await runSuites(ALONE, tell))];
  return {
    passed: all.reduce((sum, { passed }) => sum + passed, 0),
    failed: all.reduce((sum, { failed }) => sum + failed, 0),
  };
}

/**
 * @param {readonly Suite[]} suites
 * @param {(text: string) => void} tell
 */
async function runSuites(suites, tell) {
  /** @type {{ passed: number, failed: number }[]} */
  const counts = [];
  for (const { name, ...suite } of suites) {
    const outcome = await runStep({ name: `tests ${name}`, run: () => runJest(suite) }, tell);
    tell(`       ${outcome.passed} passed, ${outcome.failed} failed in ${name}`);
    counts.push(outcome);
  }
  return counts;
}

/**
 * Tests by a word: of a file's path if any has it, else of a test's name.
 * @param {string[]} words
 * @param {(text: string) => void} tell
 */
export async function runMatchingTests(words, tell) {
  const build = await runStep({ name: 'build of packages', run: buildPackages }, tell);
  if (!build.isOk) return { passed: 0, failed: 1 };
  /** @param {string} text */
  const onOutput = (text) => process.stderr.write(text);
  const choice = (await hasTestFiles(words)) ? { patterns: words } : { testName: words.join(' ') };
  return runJest({ ...choice, onOutput });
}
