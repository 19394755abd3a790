/**
 * The pictures of the README, taken of the product itself on its demonstration: npm run pictures.
 * Pages are the built ones; what is shown is what the demonstration holds on the day.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { findFreePort } from '@repo/launcher/ports';
import { chromium } from 'playwright-core';
import { CHROMIUM, FLAGS } from '../support/chromium.mjs';

const ROOT = path.resolve(import.meta.dirname, '../..');
const FOLDER = path.join(ROOT, 'apps/web/docs');
const PASSWORD = 'pictures-of-the-demonstration-1';
/** What a page of a repository loads in a moment. */
const LARGEST_BYTES = 200_000;
const VIEW = { width: 1280, height: 860 };

/** @typedef {import('playwright-core').Page} Page */

/** @type {readonly { name: string, person: string, show: (page: Page) => Promise<unknown> }[]} */
const PICTURES = [
  {
    name: 'fleet',
    person: 'engineer',
    show: (page) => page.goto('/fleet').then(() => page.getByRole('row').nth(3).waitFor()),
  },
  { name: 'machine', person: 'engineer', show: showWorstMachine },
  {
    name: 'portal',
    person: 'viewer',
    show: (page) => page.goto('/portal').then(() => page.getByRole('main').getByRole('link').first().waitFor()),
  },
];

/**
 * The first machine of the fleet, which lists the worst first, with its pressure ladder.
 * @param {Page} page
 */
async function showWorstMachine(page) {
  await page.goto('/fleet');
  const link = page.locator('a[href^="/machines/"]').first();
  await link.waitFor();
  await page.goto((await link.getAttribute('href')) ?? '/fleet');
  await page.locator('main svg').first().waitFor();
}

/**
 * @param {import('playwright-core').Browser} browser
 * @param {string} base
 */
async function takeAll(browser, base) {
  for (const theme of /** @type {const} */ (['light', 'dark'])) {
    for (const { name, person, show } of PICTURES) {
      const context = await browser.newContext({ baseURL: base, viewport: VIEW, colorScheme: theme });
      const page = await context.newPage();
      await page.goto('/sign-in');
      await page.getByLabel('E-mail').fill(`${person}@demo.example`);
      await page.getByLabel('Password').fill(PASSWORD);
      await page.getByRole('button', { name: 'Sign in', exact: true }).click();
      await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'));
      await show(page);
      await page.waitForLoadState('networkidle');
      const file = path.join(FOLDER, `${name}-${theme}.png`);
      await page.screenshot({ path: file, animations: 'disabled' });
      await context.close();
      const { size } = statSync(file);
      process.stdout.write(`${path.relative(ROOT, file)} ${Math.round(size / 1000)} kB\n`);
      if (size > LARGEST_BYTES) throw new Error(`${file} is larger than ${LARGEST_BYTES / 1000} kB`);
    }
  }
}

const dataDir = mkdtempSync(path.join(os.tmpdir(), 'kedge-pictures-'));
// The database may run as another user, who must be able to pass through.
chmodSync(dataDir, 0o755);
const port = await findFreePort();
const product = spawn(process.execPath, [path.join(ROOT, 'packages/launcher/src/start.mjs')], {
  cwd: ROOT,
  env: { ...process.env, PORT: String(port), DATA_DIR: dataDir, DEMO_PASSWORD: PASSWORD },
  stdio: ['ignore', 'pipe', 'inherit'],
});
const ended = once(product, 'exit');
try {
  await new Promise((resolve, reject) => {
    product.stdout.on('data', (/** @type {Buffer} */ text) => /^ready /m.test(text.toString()) && resolve(undefined));
    void ended.then(() => reject(new Error('the product ended before it was ready')));
  });
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: FLAGS });
  try {
    await takeAll(browser, `http://127.0.0.1:${port}`);
  } finally {
    await browser.close();
  }
} finally {
  product.kill('SIGINT');
  await ended;
  rmSync(dataDir, { recursive: true, force: true });
}
