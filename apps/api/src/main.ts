import { createApp } from './create-app.js';
import { takeHandedOver } from './handed-over.js';
import { EnvError, readEnv } from './config/env.js';

try {
  const env = readEnv();
  const app = await createApp(env);
  if (env.CONNECTIONS === 'handed-over') await takeHandedOver(app);
  else await app.listen(env.PORT, env.HOST);
  // The launcher holds the other end: when it is gone, so are we.
  process.on('disconnect', () => {
    void app.close().then(() => process.exit(0));
  });
} catch (error) {
  process.stderr.write(
    `${error instanceof EnvError ? error.message : String(error instanceof Error ? error.stack : error)}\n`,
  );
  process.exitCode = 1;
}
