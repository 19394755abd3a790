import { ensureBuilt, ensureGenerated } from './steps/build.mjs';
import { runPackagesStep, runTextChecks } from './steps/checks.mjs';
import { ensureChromium } from './steps/chromium.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runChecksAndSuites, runMatchingTests } from './steps/suites.mjs';
import { runStep, tellFailures, tellSeconds } from './steps/step.mjs';
import { runEntry } from './support/entry.mjs';

/** @typedef {{ passed: number, failed: number }} Counts */

const words = process.argv.slice(2).filter((word) => !word.startsWith('-'));

/** @type {Counts} */
const total = { passed: 0, failed: 0 };

await runEntry(async (tell) => {
  await ensureInstalled(tell);
  await ensureChromium(tell);
  await ensureGenerated(tell);
  if (words.length > 0) {
    add(await runMatchingTests(words, tell));
    return;
  }
  const [build, texts] = await Promise.all([
    runStep({ name: 'build', run: () => tryToBuild(tell) }, tell),
    runTextChecks(tell),
  ]);
  add(texts);
  add({ passed: build.isOk ? 1 : 0, failed: build.isOk ? 0 : 1 });
  // Before everything that reads what it builds.
  add(await runPackagesStep(tell));
  add(await runChecksAndSuites(tell));
});

// An error that ended the run early is a failure too, and so is a run that proved nothing.
if (process.exitCode === 1 || total.passed + total.failed === 0) total.failed += 1;
if (total.failed > 0) process.exitCode = 1;
tellSeconds(console.log);
tellFailures(console.log);
console.log(`${total.passed} passed, ${total.failed} failed`);

/** @param {Counts} counts */
function add({ passed, failed }) {
  total.passed += passed;
  total.failed += failed;
}

/** @param {(text: string) => void} tell */
async function tryToBuild(tell) {
  try {
    await ensureBuilt(tell);
    return { isOk: true, output: '', seconds: 0 };
  } catch (error) {
    return { isOk: false, output: error instanceof Error ? error.message : String(error), seconds: 0 };
  }
}
