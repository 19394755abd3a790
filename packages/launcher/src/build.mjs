import { ensureBuilt, ensureGenerated } from './steps/build.mjs';
import { runEntry } from './support/entry.mjs';
import { ensureInstalled } from './steps/install.mjs';

await runEntry(async (tell) => {
  await ensureInstalled(tell);
  await ensureGenerated(tell);
  const hasBuilt = await ensureBuilt(tell);
  tell(hasBuilt ? 'built' : 'nothing to build: the sources have not changed');
});
