import { buildPackages } from './build.mjs';
import { hasTestFiles, runJest } from './jest.mjs';
import { runStep } from './step.mjs';

/** Tests that measure time: another one beside them would be measured as well. */
const MEASURED = ['test/launcher/start', 'test/web/calculations'];

/**
 * Projects of packages/config/jest.config.mjs, cheap ones first; small ones share a run, so that no core waits for the last file of each.
 * @type {readonly { name: string, projects: string[], covered?: string, patterns?: string[], without?: string[], isAlone?: boolean }[]}
 */
const SUITES = [
  // What its own suite must run to the last branch.
  { name: 'calc', projects: ['calc'], covered: 'packages/calc/src' },
  { name: 'units', projects: ['quantity', 'contracts', 'drawing', 'api-unit', 'web-unit', 'architecture'] },
  { name: 'api', projects: ['api'] },
  { name: 'launcher and web', projects: ['launcher', 'web'], without: MEASURED },
  { name: 'measured', projects: ['launcher', 'web'], patterns: MEASURED, isAlone: true },
];

/**
 * @param {(text: string) => void} tell
 * @returns {Promise<{ passed: number, failed: number }>} counts of tests
 */
export async function runEverySuite(tell) {
  const total = { passed: 0, failed: 0 };
  for (const { name, ...suite } of SUITES) {
    const outcome = await runStep({ name: `tests ${name}`, run: () => runJest(suite) }, tell);
    tell(`       ${outcome.passed} passed, ${outcome.failed} failed in ${name}`);
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
