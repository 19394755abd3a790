import { readAdministrator } from './administrator/arguments.mjs';
import { readOptions } from './launch/options.mjs';
import { ensureInstalled } from './steps/install.mjs';
import { runEntry } from './support/entry.mjs';

await runEntry(async (tell) => {
  const person = readAdministrator(process.argv.slice(2), process.env);
  const options = readOptions([], process.env);
  await ensureInstalled(tell);
  // Only now: what this loads needs the packages that the step above installs.
  const { createAdministrator } = await import('./administrator/create.mjs');
  const { openDatabaseAside } = await import('./administrator/database.mjs');
  const database = await openDatabaseAside(options);
  try {
    await createAdministrator({ ownerUrl: database.ownerUrl, ...person });
  } finally {
    await database.close();
  }
  tell(`${person.email} is administrator of ${person.organisation}`);
  tell(
    person.isPasswordMadeUp
      ? `password: ${person.password}  (shown once; change it after signing in)`
      : 'password: as given',
  );
});
