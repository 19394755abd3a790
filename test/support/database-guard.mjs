import { spawn } from 'node:child_process';
import { once } from 'node:events';
import fs from 'node:fs';
import { fileURLToPath } from 'node:url';
import { startEmbeddedPostgres } from '@repo/launcher/embedded-postgres';

/**
 * Starts a small process that stops the server in `dataDir` and removes the folder once this process is gone.
 * It notices by the end of its standard input, which the kernel closes even after kill -9.
 * @param {string} dataDir
 * @returns {{ release: () => Promise<void> }} `release` clears up now and waits until that is done
 */
export function guardDatabase(dataDir) {
  // Detached: Ctrl-C in a terminal reaches the whole process group, and the guard must outlive it.
  const guard = spawn(process.execPath, [fileURLToPath(import.meta.url), dataDir], {
    detached: true,
    stdio: ['pipe', 'ignore', 'inherit'],
  });
  guard.unref();
  return {
    release: async () => {
      if (guard.exitCode !== null) return;
      guard.ref();
      const exit = once(guard, 'exit');
      guard.stdin.end();
      await exit;
    },
  };
}

/** @param {string} dataDir */
async function waitAndClear(dataDir) {
  process.stdin.resume();
  await once(process.stdin, 'end');
  if (fs.existsSync(`${dataDir}/postgres/postmaster.pid`)) {
    const server = await startEmbeddedPostgres({ dataDir });
    await server.stop();
  }
  fs.rmSync(dataDir, { recursive: true, force: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const dataDir = process.argv[2];
  if (dataDir === undefined) throw new Error('Usage: database-guard.mjs FOLDER');
  await waitAndClear(dataDir);
}
