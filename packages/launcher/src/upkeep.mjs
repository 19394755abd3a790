import { runEntry } from './support/entry.mjs';
import { PlainError } from './support/plain-error.mjs';

await runEntry(async (tell) => {
  const ownerUrl = process.env.DATABASE_OWNER_URL;
  if (ownerUrl === undefined) {
    throw new PlainError(
      'DATABASE_OWNER_URL is not set.',
      'Give the login that owns the schema; npm start does this by itself.',
    );
  }
  const { keepCountMonths } = await import('./database/count-months.mjs');
  const { made, dropped, receipts } = await keepCountMonths({ ownerUrl });
  tell(`months made: ${made.length}, dropped: ${dropped.join(', ') || 'none'}; receipts deleted: ${receipts}`);
});
