import { ensureBuilt } from './steps/build.mjs';
import { runEntry } from './support/entry.mjs';
import { ensureInstalled } from './steps/install.mjs';

await runEntry(async (tell) => {
  await ensureInstalled(tell);
  const hasBuilt = await ensureBuilt(tell);
  tell(hasBuilt ? 'built' : 'nothing to build: the sources have not changed');
});
