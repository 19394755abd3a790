import { ensureGenerated } from './steps/build.mjs';
import { runChecks } from './steps/checks.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  await ensureInstalled(tell);
  await ensureGenerated(tell);
  const { passed, failed } = await runChecks(tell);
  tell(`${passed} checks passed, ${failed} failed`);
  if (failed > 0) process.exitCode = 1;
});
