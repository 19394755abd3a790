import setUpDatabase from './global-setup.mjs';
import { startPages } from './pages.mjs';

/** Jest's global set-up of the page tests: the database server, the server of pages and a browser. */
export default async function setUp() {
  const shared = /** @type {{ testPages?: ReturnType<typeof startPages> }} */ (globalThis);
  shared.testPages ??= startPages();
  await Promise.all([setUpDatabase(), shared.testPages]);
}
