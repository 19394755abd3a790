import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { runTool } from '../support/run.mjs';

/**
 * @typedef {object} JestOutcome
 * @property {boolean} isOk
 * @property {string} output
 * @property {number} seconds
 * @property {number} passed
 * @property {readonly string[]} failures
 * @property {number} failed includes tests that did not run and files that could not be loaded
 */

const CONFIG = ['--config', path.join('packages', 'config', 'jest.config.mjs')];
const NODE_ARGS = ['--experimental-vm-modules', '--disable-warning=ExperimentalWarning'];

/**
 * Whether any test file has one of the words in its path.
 * @param {string[]} patterns
 * @returns {Promise<boolean>}
 */
export async function hasTestFiles(patterns) {
  const args = [...CONFIG, '--listTests', '--testPathPatterns', ...patterns];
  const { isOk, output } = await runTool('jest/bin/jest.js', args, { nodeArgs: NODE_ARGS });
  return isOk && output.trim() !== '';
}

/**
 * Runs Jest. Nothing found, nothing run and anything skipped are failures: a run proves only what it ran.
 * @param {object} input
 * @param {string[]} [input.projects] all by default
 * @param {string[]} [input.patterns] of file paths
 * @param {string[]} [input.without] patterns of file paths that are left to another run
 * @param {string} [input.testName] pattern of test names
 * @param {string} [input.covered] folder whose every statement, branch and function the tests must run
 * @param {number} [input.workers] files at a time: one for suites that measure time
 * @param {(text: string) => void} [input.onOutput]
 * @returns {Promise<JestOutcome>}
 */
export async function runJest({ projects = [], patterns = [], without = [], testName, covered, workers, onOutput }) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'kedge-jest-'));
  const reportFile = path.join(folder, 'report.json');
  const args = [
    ...[...CONFIG, '--json', '--outputFile', reportFile],
    ...(projects.length > 0 ? ['--selectProjects', ...projects] : []),
    ...(workers === undefined ? [] : ['--maxWorkers', String(workers)]),
    ...(covered === undefined ? [] : toCoverageArgs(covered, folder)),
    ...(testName === undefined ? [] : ['--testNamePattern', testName]),
    ...(without.length > 0 ? ['--testPathIgnorePatterns', ...without] : []),
    ...(patterns.length > 0 ? ['--testPathPatterns', ...patterns] : []),
  ];
  try {
    const result = await runTool('jest/bin/jest.js', args, { nodeArgs: NODE_ARGS, onOutput });
    return { ...result, ...readCounts(reportFile, result, testName !== undefined) };
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * Coverage that is asked for in full: what no test runs is either tested or taken out.
 * @param {string} source
 * @param {string} folder for what Jest writes
 */
function toCoverageArgs(source, folder) {
  const all = { statements: 100, branches: 100, functions: 100, lines: 100 };
  return [
    ...['--coverage', '--collectCoverageFrom', `${source}/**/*.ts`, '--coverageDirectory', folder],
    ...['--coverageReporters', 'text', '--coverageThreshold', JSON.stringify({ global: all })],
  ];
}

/**
 * @param {string} reportFile
 * @param {{ isOk: boolean, output: string }} result of Jest itself, which fails too where less was run than was asked for
 * @param {boolean} isByName other tests are then left out on purpose
 */
function readCounts(reportFile, { isOk, output }, isByName) {
  if (!fs.existsSync(reportFile)) return { isOk: false, passed: 0, failed: 1, failures: ['no report was written'] };
  const report = JSON.parse(fs.readFileSync(reportFile, 'utf8'));
  const left = isByName ? 0 : report.numPendingTests + report.numTodoTests;
  const failed = report.numFailedTests + report.numRuntimeErrorTestSuites + left;
  const passed = report.numPassedTests;
  const failures = listFailures(report);
  if (failed > 0) return { isOk: false, passed, failed, failures };
  if (passed === 0 || !isOk) return { isOk: false, passed, failed: 1, failures: listBesideTests(output) };
  return { isOk: true, passed, failed, failures };
}

/**
 * @param {string} output
 * @returns {string[]} what Jest itself says where every test passed: coverage that was not reached, and where
 */
function listBesideTests(output) {
  const lines = stripVTControlCharacters(output).split('\n');
  const beside = lines.filter((line) => /^Jest: /.test(line) || /\.ts\s+\|.*\|\s*\d[\d,.\s-]*$/.test(line));
  return beside.length === 0 ? ['no test ran, or Jest failed beside its tests'] : beside.map((line) => line.trim());
}

/**
 * @typedef {{ fullName: string, status: string, failureMessages: string[] }} TestReport
 * @param {{ testResults: { name: string, message: string, status: string, assertionResults: TestReport[] }[] }} report
 * @returns {string[]} a line for each test that did not pass, and for each file that could not be run
 */
function listFailures({ testResults }) {
  return testResults.flatMap(({ name, message, status, assertionResults }) => {
    const file = path.relative(process.cwd(), name);
    const lines = assertionResults
      .filter((test) => test.status !== 'passed')
      .map((test) => `${file} › ${test.fullName}: ${toFirstLine(test.failureMessages[0] ?? test.status)}`);
    return lines.length === 0 && status === 'failed' ? [`${file}: ${toFirstLine(message)}`] : lines;
  });
}

/** @param {string} text */
function toFirstLine(text) {
  return stripVTControlCharacters(text)
    .split('\n')
    .map((line) => line.trim())
    .find((line) => line !== '' && !line.startsWith('●'))
    ?.slice(0, 200);
}
