/** The API of a container set-up behind a front door that stays while the API is started again. */
import { openFrontDoor } from './launch/front-door.mjs';
import { waitForInterrupt } from './launch/interrupt.mjs';
import { readOptions } from './launch/options.mjs';
import { readTlsFiles, startBehind } from './launch/servers.mjs';
import { StopStack } from './launch/stop-stack.mjs';
import { Supervised } from './launch/supervised.mjs';
import { runEntry } from './support/entry.mjs';
import { PlainError } from './support/plain-error.mjs';

await runEntry(async (tell) => {
  const { port, host } = readOptions([], { PORT: process.env.PORT, HOST: process.env.HOST });
  const stack = new StopStack();
  const interrupted = waitForInterrupt(tell);
  try {
    const door = await openFrontDoor({ port, host, tls: readTlsFiles(process.env) });
    await stack.add(door.close);
    const api = new Supervised({ name: 'the API', start: () => startBehind(door, { env: {}, dataDir: null }), tell });
    const beginning = api.begin();
    await stack.add(() => api.stop());
    const end = await Promise.race([beginning.then(() => api.watch()), interrupted.then(() => null)]);
    if (end !== null) throw new PlainError(`${end}.`, 'The lines above say more.');
  } finally {
    await stack.stopAll();
  }
});
