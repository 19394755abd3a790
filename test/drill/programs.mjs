import { spawn } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';

const ROOT = path.resolve(import.meta.dirname, '../..');
const PASSPHRASE = 'words for a drill that nobody else says';

/**
 * Starts one of our programs as its command does, on the data folder or database that the environment names.
 * @param {string} program
 * @param {string[]} args
 * @param {Record<string, string>} env
 */
export function startProgram(program, args, env) {
  const none = { DATABASE_URL: '', DATABASE_OWNER_URL: '', DATABASE_GATE_URL: '', DATABASE_BACKUP_URL: '' };
  return spawn(process.execPath, [path.join('packages/launcher/src', program), ...args], {
    cwd: ROOT,
    env: { ...process.env, ...none, BACKUP_PASSPHRASE: PASSPHRASE, ...env },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
}

/**
 * Runs one of our programs to its end.
 * @param {string} program
 * @param {string[]} args
 * @param {Record<string, string>} env
 * @returns {Promise<{ code: number | null, said: string, seconds: number, mostMiB: number }>} what it complained of, and how much
 *   memory it held at most (Linux)
 */
export async function runProgram(program, args, env) {
  const began = performance.now();
  const child = startProgram(program, args, env);
  let output = '';
  child.stderr.on('data', (chunk) => (output += String(chunk)));
  let mostKiB = 0;
  const looking = setInterval(() => {
    const file = `/proc/${child.pid}/status`;
    const status = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
    mostKiB = Math.max(mostKiB, Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? 0));
  }, 50);
  const [code] = await once(child, 'close');
  clearInterval(looking);
  return { code, said: output, seconds: (performance.now() - began) / 1000, mostMiB: Math.round(mostKiB / 1024) };
}

/**
 * The same where it must go well, told in one line.
 * @param {string} program
 * @param {string[]} args
 * @param {Record<string, string>} env
 * @param {(text: string) => void} tell
 */
export async function runProgramWell(program, args, env, tell) {
  const { code, said: output, seconds, mostMiB } = await runProgram(program, args, env);
  if (code !== 0) throw new Error(`${program} ended with ${code}: ${output}`);
  tell(`  ${program} ${path.basename(args[0] ?? '')}: ${seconds.toFixed(1)} s, at most ${mostMiB} MiB of memory`);
}
