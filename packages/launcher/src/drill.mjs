import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

const DEFAULT_ROUNDS = 20;

await runEntry(async (tell) => {
  const rounds = Number(process.argv[2] ?? DEFAULT_ROUNDS);
  await ensureInstalled(tell);
  // Only now: what this loads needs the packages that the step above installs.
  const { drillCrashes } = await import('./drill/crashes.mjs');
  await drillCrashes(rounds, tell);
});
