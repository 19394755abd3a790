import tearDownDatabase from './global-teardown.mjs';

/** Jest's global tear-down of the page tests. */
export default async function tearDown() {
  const shared = /** @type {{ testPages?: ReturnType<typeof import('./pages.mjs').startPages> }} */ (globalThis);
  const pages = await shared.testPages;
  await pages?.stop();
  await tearDownDatabase();
}
