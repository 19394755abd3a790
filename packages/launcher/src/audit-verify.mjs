import { readVerifyArguments } from './audit/arguments.mjs';
import { readOptions } from './launch/options.mjs';
import { ensureBuilt } from './steps/build.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const { headsFile } = readVerifyArguments(process.argv.slice(2));
  const options = readOptions([], process.env);
  await ensureInstalled(tell);
  await ensureBuilt(tell);
  // Only now: what this loads needs the packages that the steps above install and build.
  const { verifyAudit } = await import('./audit/verify.mjs');
  const { isWhole } = await verifyAudit(options, { headsFile }, tell);
  if (!isWhole) process.exitCode = 1;
});
