import { readOptions } from './launch/options.mjs';
import { assertPortFree } from './launch/port.mjs';
import { ensureBuilt } from './steps/build.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const options = readOptions(process.argv.slice(2), process.env);
  await assertPortFree(options);
  await ensureInstalled(tell);
  await ensureBuilt(tell);
  // Only now: what this loads needs the packages that the first step installs.
  const { launch } = await import('./launch/launch.mjs');
  await launch(options, tell);
});
