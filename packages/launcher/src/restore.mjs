import { readFileArgument } from './backup/arguments.mjs';
import { readPassphrase } from './backup/passphrase.mjs';
import { readOptions } from './launch/options.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

const USAGE = 'npm run restore -- FILE   (into an empty DATA_DIR, or an empty database of DATABASE_OWNER_URL)';

await runEntry(async (tell) => {
  const { file } = readFileArgument(process.argv.slice(2), USAGE);
  const options = readOptions([], process.env);
  await ensureInstalled(tell);
  // Only now: what this loads needs the packages that the step above installs.
  const { isEncrypted } = await import('./backup/archive.mjs');
  const passphrase = isEncrypted(file) ? await readPassphrase(process.env) : null;
  const { restore } = await import('./backup/target.mjs');
  const { madeAt, rows, tables, hasSecret } = await restore(options, { file, passphrase });
  tell(`restored ${rows} rows of ${tables} tables as they were at ${madeAt}`);
  if (!hasSecret)
    tell('Put APP_SECRET (app-secret in the data folder) back from where it is kept, before the first start.');
});
