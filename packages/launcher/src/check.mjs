import { ensureGenerated } from './steps/build.mjs';
import { runChecks, runPackagesStep } from './steps/checks.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  await ensureInstalled(tell);
  await ensureGenerated(tell);
  const packages = await runPackagesStep(tell);
  const others = packages.failed === 0 ? await runChecks(tell) : { passed: 0, failed: 0 };
  const failed = packages.failed + others.failed;
  tell(`${packages.passed + others.passed} checks passed, ${failed} failed`);
  if (failed > 0) process.exitCode = 1;
});
