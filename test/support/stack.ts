import path from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { withConnection } from '@repo/launcher/connection';
import { createDemoDatabase, PASSWORD } from './database.mjs';
import { findPages } from './page-addresses.mjs';
import { axeSource, chromium, createApp, readEnv } from './shared.js';

const STATIC_DIR = path.resolve(import.meta.dirname, '../../apps/web/.next/static');

export interface Stack {
  base: string;
  browser: Browser;
  /** an empty page of a person who is signed in, in a browser context of its own; complaints of the browser are collected */
  as(name: string | null, options?: { theme?: 'light' | 'dark'; width?: number; height?: number }): Promise<Visit>;
  /** writes past the product, as the superuser of the test cluster */
  query(statement: string): Promise<void>;
  stop(): Promise<void>;
}

export interface Visit {
  context: BrowserContext;
  page: Page;
  /** what the browser complained about: errors on the page, refused scripts and styles */
  complaints: string[];
}

/**
 * The whole product as people use it: demonstration data, API, pages behind one origin, and a browser. Data and API are the
 * file's own; the server of pages and the browser are those of the whole run.
 */
export async function startStack(overrides: Record<string, string> = {}): Promise<Stack> {
  const { webUrl, browserUrl } = findPages();
  const [db, browser] = await Promise.all([createDemoDatabase(), chromium.connect(browserUrl)]);
  const env = readEnv({
    DATABASE_URL: db.appUrl,
    DATABASE_GATE_URL: db.gateUrl,
    APP_SECRET: 'a secret of at least thirty-two bytes for tests',
    LOG_LEVEL: 'silent',
    RATE_LIMIT: '1000000',
    WEB_URL: webUrl,
    WEB_STATIC_DIR: STATIC_DIR,
    // Other tests keep the machine busy: how long a calculation may take is a test of its own.
    COMPUTE_SECONDS: '60',
    ...overrides,
  });
  const app = await createApp(env);
  await app.listen(0, '127.0.0.1');
  const { port } = app.getHttpServer().address() as { port: number };
  const base = `http://127.0.0.1:${port}`;
  return {
    base,
    browser,
    as: (name, options) => visit(browser, base, name, options),
    query: async (statement) => {
      await withConnection(db.superuserUrl, (client) => client.query(statement));
    },
    stop: async () => {
      await browser.close();
      await app.close();
      await db.drop();
    },
  };
}

async function visit(
  browser: Browser,
  base: string,
  name: string | null,
  { theme = 'light', width = 1440, height = 900 }: { theme?: 'light' | 'dark'; width?: number; height?: number } = {},
): Promise<Visit> {
  const context = await browser.newContext({ baseURL: base, viewport: { width, height }, colorScheme: theme });
  // What is tested is that something comes, not how soon: on two busy cores a page may wait long for its turn.
  context.setDefaultTimeout(60_000);
  context.on('page', waitUntilAnswering);
  const complaints: string[] = [];
  // Of every tab.
  context.on('weberror', (failure) => complaints.push(failure.error().message));
  context.on('console', (message) => {
    const text = message.text();
    // A 401 before sign-in is how the page learns that nobody is signed in.
    if (message.type() !== 'error' || text.includes('status of 401')) return;
    // Of what could not be loaded the browser says only that it could not.
    complaints.push(text.startsWith('Failed to load') ? `${text} ${message.location().url}` : text);
  });
  if (name !== null) await enter(context, name);
  const page = await context.newPage();
  return { context, page, complaints };
}

/**
 * Going to a page ends when it answers to keys and pointer. What a server has drawn stands there before its scripts do, and a press that
 * comes in between is lost; people look before they press, so it hardly happens to them.
 */
function waitUntilAnswering(page: Page): void {
  const thenAnswering =
    <A extends unknown[], R>(go: (...how: A) => Promise<R>) =>
    async (...how: A): Promise<R> => {
      const response = await go(...how);
      await page.waitForFunction(isAnswering);
      return response;
    };
  page.goto = thenAnswering(page.goto.bind(page));
  page.reload = thenAnswering(page.reload.bind(page));
}

/**
 * In the page, asked once a frame: whether React has taken over all that it drew, and its first effects have run, two frames later. A
 * promise would be taken for a yes, whatever comes of it.
 */
function isAnswering(): boolean {
  const isOurs = document.querySelector('script[src*="/_next/"]') !== null;
  const controls = [...document.querySelectorAll('body button, body input, body select, body textarea, body a[href]')];
  const isTaken = (control: Element): boolean =>
    control.closest('svg') !== null || Object.keys(control).some((key) => key.startsWith('__reactProps'));
  if (isOurs && !controls.every(isTaken)) return false;
  const counted = window as { answeringFrames?: number };
  counted.answeringFrames = (counted.answeringFrames ?? 0) + 1;
  return counted.answeringFrames > 2;
}

/** Signs in without a page: what is looked at begins with the page that a test goes to. */
async function enter(context: BrowserContext, name: string): Promise<void> {
  const data = { email: `${name}@demo.example`, password: PASSWORD };
  const answer = await context.request.post('/api/v1/sessions', { data });
  if (answer.status() !== 201) throw new Error(`cannot sign in as ${name}: ${answer.status()} ${await answer.text()}`);
}

/** Signs in as people do. */
export async function signIn(page: Page, name: string): Promise<void> {
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(`${name}@demo.example`);
  await page.getByLabel('Password').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'));
}

/** Violations of WCAG that axe can see, as short lines. */
export async function violationsOf(page: Page): Promise<string[]> {
  // The page's own policy refuses foreign scripts: the checker goes in through the debugger's door.
  const session = await page.context().newCDPSession(page);
  await session.send('Runtime.evaluate', { expression: axeSource });
  const { result } = await session.send('Runtime.evaluate', {
    // Of what passes nothing is put together: nobody reads it.
    expression: `axe.run(document, { resultTypes: ['violations'], runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
      .then((found) => JSON.stringify(found.violations.map((one) => one.id + ': ' + one.nodes.map((node) => node.target.join(' ')).join(', '))))`,
    awaitPromise: true,
    returnByValue: true,
  });
  return JSON.parse(String(result.value)) as string[];
}
