import { makeDemoTemplate } from './database.mjs';
import setUpDatabase from './global-setup.mjs';
import { startPages } from './pages.mjs';

/** Jest's global set-up of the page tests: the database server with the demonstration, the server of pages and a browser. */
export default async function setUp() {
  const shared = /** @type {{ testPages?: ReturnType<typeof startPages> }} */ (globalThis);
  shared.testPages ??= startPages();
  await Promise.all([setUpDatabase().then(makeDemoTemplate), shared.testPages]);
}
