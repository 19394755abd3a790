import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

export interface Launcher {
  readonly process: ChildProcess;
  /** what it has printed so far */
  readonly output: () => string;
  /** seconds until the ready line; throws what it printed when it ends before */
  readonly ready: () => Promise<number>;
  /** exit code, null when a signal ended it */
  readonly ended: Promise<number | null>;
}

/** Starts the product as `npm start` or `npm run dev` does, with the environment and options given. */
export function startLauncher(
  env: NodeJS.ProcessEnv,
  args: string[] = ['--no-demo'],
  command: 'start' | 'dev' = 'start',
): Launcher {
  const clean = { ...process.env, DATABASE_URL: '', DATABASE_OWNER_URL: '', DATABASE_GATE_URL: '', DEMO_PASSWORD: '' };
  const startedAt = performance.now();
  const child = spawn(process.execPath, [`packages/launcher/src/${command}.mjs`, ...args], {
    cwd: ROOT,
    env: { ...clean, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  const keep = (chunk: Buffer): void => {
    output += chunk.toString('utf8');
  };
  child.stdout.on('data', keep);
  child.stderr.on('data', keep);
  const ended = once(child, 'close').then(() => child.exitCode);
  return {
    process: child,
    output: () => output,
    ended,
    ready: async () => {
      while (!/^ready http/m.test(output)) {
        if (child.exitCode !== null || child.signalCode !== null)
          throw new Error(`it ended before it was ready:\n${output}`);
        await delay(25);
      }
      return (performance.now() - startedAt) / 1000;
    },
  };
}
