import { EnvError, readEnv } from './config/env.js';
import { createWorker } from './create-worker.js';

try {
  const worker = await createWorker(readEnv());
  const end = (): void => {
    void worker.close().then(() => process.exit(0));
  };
  for (const signal of ['SIGTERM', 'SIGINT', 'disconnect'] as const) process.once(signal, end);
  process.stdout.write('the worker is ready\n');
} catch (error) {
  process.stderr.write(
    `${error instanceof EnvError ? error.message : String(error instanceof Error ? error.stack : error)}\n`,
  );
  process.exitCode = 1;
}
