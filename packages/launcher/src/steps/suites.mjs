import { buildPackages } from './build.mjs';
import { hasTestFiles, runJest } from './jest.mjs';
import { runStep } from './step.mjs';

/** Projects of packages/config/jest.config.mjs, cheap ones first. */
const SUITES = ['quantity', 'calc', 'contracts', 'drawing', 'api-unit', 'web-unit', 'architecture', 'api'];

/** Code that its own suite must run to the last branch. */
const COVERED = new Map([['calc', 'packages/calc/src']]);

/** Projects whose tests start the whole product: two at once would measure each other. */
const SUITES_ALONE = ['launcher', 'web'];

/**
 * @param {(text: string) => void} tell
 * @returns {Promise<{ passed: number, failed: number }>} counts of tests
 */
export async function runEverySuite(tell) {
  const total = { passed: 0, failed: 0 };
  for (const suite of [...SUITES, ...SUITES_ALONE]) {
    const isAlone = SUITES_ALONE.includes(suite);
    const run = () => runJest({ projects: [suite], covered: COVERED.get(suite), isAlone });
    const outcome = await runStep({ name: `tests ${suite}`, run }, tell);
    tell(`       ${outcome.passed} passed, ${outcome.failed} failed in ${suite}`);
    total.passed += outcome.passed;
    total.failed += outcome.failed;
  }
  return total;
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
