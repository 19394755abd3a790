import { drillIngest } from '../drill/ingest.mjs';

/** Three of the seeded fault runs; `npm run drill` makes all of them. */
it('kill -9 of API and PostgreSQL, duplicates, reordering and late retries lose nothing and count nothing twice', async () => {
  const total = await drillIngest({ runs: 3, seed: 20_261_125 });
  expect(total.kills).toBeGreaterThanOrEqual(3);
  expect(total.rows).toBeGreaterThan(200);
  expect(total.findings).toBeGreaterThan(10);
  // Retries and duplicates came on top of every delivery.
  expect(total.attempts).toBeGreaterThan(total.deliveries);
}, 240_000);
