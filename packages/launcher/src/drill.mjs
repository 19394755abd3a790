import { spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { ensureInstalled } from './steps/install.mjs';
import { ensureBuilt } from './steps/build.mjs';
import { runEntry } from './support/entry.mjs';
import { ROOT } from './support/paths.mjs';

const DEFAULT_ROUNDS = 20;
const DEFAULT_RUNS = 200;

await runEntry(async (tell) => {
  const rounds = Number(process.argv[2] ?? DEFAULT_ROUNDS);
  const runs = Number(process.argv[3] ?? DEFAULT_RUNS);
  await ensureInstalled(tell);
  await ensureBuilt(tell);
  // Only now: what this loads needs the packages that the step above installs.
  const { drillCrashes } = await import('./drill/crashes.mjs');
  await drillCrashes(rounds, tell);
  const ingest = spawn(process.execPath, [path.join(ROOT, 'test/drill/run.mjs'), String(runs)], { stdio: 'inherit' });
  const [code] = await once(ingest, 'exit');
  if (code !== 0) throw new Error(`the drill of alarm counts ended with ${code}`);
});
