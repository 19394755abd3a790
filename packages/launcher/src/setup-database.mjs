/** Prepares the database of a container set-up: roles, database and migrations; then ends. */
import { bringUpToDate } from './database/bring-up-to-date.mjs';
import { keepCountMonths } from './database/count-months.mjs';
import { readSetupUrls } from './setup/environment.mjs';
import { ensureRoles } from './roles.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const { superuserUrl, urls } = readSetupUrls(process.env);
  await ensureRoles({ superuserUrl, urls });
  const applied = await bringUpToDate({ ownerUrl: urls.ownerUrl });
  await keepCountMonths({ ownerUrl: urls.ownerUrl });
  tell(`the database is ready; ${applied.length} migrations applied now`);
});
