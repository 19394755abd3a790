/** Keeps the logins of a container set-up from changing their own passwords and settings; runs beside the database, as long as it does. */
import { once } from 'node:events';
import { holdLogins } from './database/login-hold.mjs';
import { ensureRoles } from './roles.mjs';
import { readSetupUrls } from './setup/environment.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const { superuserUrl, urls } = readSetupUrls(process.env);
  const putBack = () => ensureRoles({ superuserUrl, urls });
  const hold = await holdLogins({ superuserUrl, loginUrls: Object.values(urls), putBack, tell });
  tell('passwords and settings of the logins are held');
  // Nothing else keeps the process alive while the database is away.
  const staying = setInterval(() => undefined, 60_000);
  await Promise.race([once(process, 'SIGTERM'), once(process, 'SIGINT')]);
  clearInterval(staying);
  await hold.stop();
});
