/** Prepares the database of a container set-up: roles, database and migrations; then ends. */
import { keepCountMonths } from './database/count-months.mjs';
import { applyMigrations } from './migrate.mjs';
import { installQueue } from './queue.mjs';
import { readSetupUrls } from './setup/environment.mjs';
import { ensureRoles } from './roles.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const { superuserUrl, urls } = readSetupUrls(process.env);
  await ensureRoles({ superuserUrl, urls });
  const applied = await applyMigrations({ ownerUrl: urls.ownerUrl });
  await installQueue({ ownerUrl: urls.ownerUrl });
  await keepCountMonths({ ownerUrl: urls.ownerUrl });
  tell(`the database is ready; ${applied.length} migrations applied now`);
});
