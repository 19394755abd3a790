import { startTestDatabase } from './database.mjs';

/**
 * Jest's global set-up of the projects that need PostgreSQL. Jest calls it once per project; they share one server.
 */
export default async function setUp() {
  const shared = /** @type {{ testDatabase?: ReturnType<typeof startTestDatabase> }} */ (globalThis);
  shared.testDatabase ??= startTestDatabase();
  await shared.testDatabase;
}
