/** Jest's global tear-down of the projects that need PostgreSQL. Stopping twice does nothing. */
export default async function tearDown() {
  const shared = /** @type {{ testDatabase?: ReturnType<typeof import('./database.mjs').startTestDatabase> }} */ (
    globalThis
  );
  const server = await shared.testDatabase;
  await server?.stop();
}
