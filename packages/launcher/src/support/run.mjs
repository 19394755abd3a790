import { spawn } from 'node:child_process';
import path from 'node:path';
import { ROOT } from './paths.mjs';

/** Nothing we start may phone home or ask whether there is something newer. */
const QUIET = {
  CHECKPOINT_DISABLE: '1',
  NEXT_TELEMETRY_DISABLED: '1',
  TURBO_TELEMETRY_DISABLED: '1',
  DO_NOT_TRACK: '1',
  NO_UPDATE_NOTIFIER: '1',
};

/**
 * How Node runs a tool that ends within minutes: with room for the youngest objects, since a tenth of the time goes into collecting them
 * otherwise, and with six times as many turns before what is called often is compiled once more, since most of it ends before that has paid.
 */
export const TOOL_ARGS = ['--max-semi-space-size=64', '--interrupt-budget=400000'];

/** @typedef {{ isOk: boolean, output: string, seconds: number }} RunResult */

/**
 * The environment for a program we start.
 * @param {NodeJS.ProcessEnv} [more]
 * @returns {NodeJS.ProcessEnv}
 */
export function toEnvironment(more = {}) {
  return { ...process.env, ...QUIET, ...more };
}

/**
 * Runs a program to its end and keeps what it wrote.
 * @param {string} command
 * @param {string[]} args
 * @param {{ env?: NodeJS.ProcessEnv, cwd?: string, shell?: boolean, onOutput?: (text: string) => void }} [options]
 * @returns {Promise<RunResult>} never rejects: a program that cannot be started is a failed run
 */
export function run(command, args, { env = {}, cwd = ROOT, shell = false, onOutput } = {}) {
  const startedAt = performance.now();
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd, env: toEnvironment(env), shell, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    /** @param {Buffer} chunk */
    const keep = (chunk) => {
      output += chunk.toString('utf8');
      onOutput?.(chunk.toString('utf8'));
    };
    child.stdout.on('data', keep);
    child.stderr.on('data', keep);
    const seconds = () => (performance.now() - startedAt) / 1000;
    child.once('error', (error) =>
      resolve({ isOk: false, output: `${command}: ${error.message}`, seconds: seconds() }),
    );
    child.once('close', (code) => resolve({ isOk: code === 0, output, seconds: seconds() }));
  });
}

/**
 * Runs a tool that npm installed, without npx and its look at the registry.
 * @param {string} script path inside node_modules, for example `prettier/bin/prettier.cjs`
 * @param {string[]} args
 * @param {{ env?: NodeJS.ProcessEnv, cwd?: string, nodeArgs?: string[], onOutput?: (text: string) => void }} [options]
 */
export function runTool(script, args, { nodeArgs = [], ...options } = {}) {
  return run(process.execPath, [...TOOL_ARGS, ...nodeArgs, path.join(ROOT, 'node_modules', script), ...args], options);
}

/**
 * The npm that runs this script, or the one on the path.
 * @param {string[]} args
 */
export function runNpm(args) {
  const npm = process.env.npm_execpath;
  if (npm !== undefined && /\.c?js$/.test(npm)) return run(process.execPath, [npm, ...args]);
  return run('npm', args, { shell: process.platform === 'win32' });
}
