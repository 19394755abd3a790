/**
 * Where the pages and the browser of a run are. A file of its own: every test file reads it, and what starts them loads the browser's whole
 * driver, which Jest would compile again for each.
 */

/** Carry both addresses from Jest's global set-up to its workers. */
const WEB_VARIABLE = 'TEST_WEB_URL';
const BROWSER_VARIABLE = 'TEST_BROWSER_URL';

/** @param {{ webUrl: string, browserUrl: string }} addresses */
export function tellPages({ webUrl, browserUrl }) {
  process.env[WEB_VARIABLE] = webUrl;
  process.env[BROWSER_VARIABLE] = browserUrl;
}

/** Where they are. */
export function findPages() {
  const [webUrl, browserUrl] = [process.env[WEB_VARIABLE], process.env[BROWSER_VARIABLE]];
  if (webUrl === undefined || browserUrl === undefined)
    throw new Error('The pages are not served: startPages() comes first.');
  return { webUrl, browserUrl };
}
