import path from 'node:path';
import { readOptions } from './launch/options.mjs';
import { assertPortFree } from './launch/port.mjs';
import { buildServer } from './steps/build.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

/** Beside the port and the data folder of `npm start`, so that both can run. */
const { PORT, DATA_DIR } = process.env;
const PLACE = { PORT: PORT || '4801', DATA_DIR: DATA_DIR || path.join('.data', 'dev') };

await runEntry(async (tell) => {
  const options = readOptions(process.argv.slice(2), { ...process.env, ...PLACE });
  await assertPortFree(options);
  await ensureInstalled(tell);
  await buildServer(tell);
  // Only now: what these load needs the packages that are installed above.
  const { launch } = await import('./launch/launch.mjs');
  const { watchSources } = await import('./develop/watch-sources.mjs');
  await launch(options, tell, { isDeveloping: true, follow: watchSources });
});
