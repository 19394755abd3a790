import { readFileArgument } from './backup/arguments.mjs';
import { readNewPassphrase } from './backup/passphrase.mjs';
import { readOptions } from './launch/options.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

const USAGE = 'npm run backup -- FILE [--encrypt]   (pass phrase from BACKUP_PASSPHRASE, or asked)';

await runEntry(async (tell) => {
  const { file, isEncrypted } = readFileArgument(process.argv.slice(2), USAGE, { mayEncrypt: true });
  const options = readOptions([], process.env);
  const passphrase = isEncrypted ? await readNewPassphrase(process.env) : null;
  await ensureInstalled(tell);
  // Only now: what this loads needs the packages that the step above installs.
  const { backUp } = await import('./backup/make.mjs');
  const stopping = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.once(signal, () => stopping.abort());
  const made = await backUp(options, { file, passphrase, signal: stopping.signal });
  tell(`${file}: ${made.rows} rows of ${made.tables} tables, ${(made.bytes / 1_048_576).toFixed(1)} MiB`);
  if (!made.hasSecret) {
    tell(
      'It does not hold APP_SECRET, which opens the secrets of gateways: keep that apart (in the data folder: app-secret).',
    );
  }
});
