import { spawn, type ChildProcess } from 'node:child_process';
import { createServer } from 'node:net';
import path from 'node:path';
import { createApp } from '@repo/api/app';
import { readEnv } from '@repo/api/env';
import axe from 'axe-core';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { withConnection } from '@repo/launcher/connection';
import { loadDemo } from '@repo/launcher/demo';
import { PASSWORD } from './api.js';
import { createDatabase } from './database.mjs';

const ROOT = path.resolve(import.meta.dirname, '../..');
const CHROMIUM = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
/** As root there is no sandbox; the rest keeps the browser from calling home. */
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });

async function untilAnswers(url: string): Promise<void> {
  for (let round = 0; round < 300; round += 1) {
    const isUp = await fetch(url).then(
      (response) => response.status < 500,
      () => false,
    );
    if (isUp) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`${url} does not answer`);
}

export interface Stack {
  base: string;
  browser: Browser;
  /** a page of a person who is signed in, in a browser context of its own; complaints of the browser are collected */
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

/** The whole product as people use it: demonstration data, API, pages behind one origin, and a browser. */
export async function startStack(overrides: Record<string, string> = {}): Promise<Stack> {
  const db = await createDatabase();
  await loadDemo({ ...db, password: PASSWORD });
  const webPort = await freePort();
  const web: ChildProcess = spawn(
    process.execPath,
    [
      path.join(ROOT, 'node_modules/next/dist/bin/next'),
      'start',
      '-p',
      String(webPort),
      '-H',
      '127.0.0.1',
      path.join(ROOT, 'apps/web'),
    ],
    { stdio: 'ignore', env: { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' } },
  );
  const env = readEnv({
    DATABASE_URL: db.appUrl,
    DATABASE_GATE_URL: db.gateUrl,
    APP_SECRET: 'a secret of at least thirty-two bytes for tests',
    LOG_LEVEL: 'silent',
    RATE_LIMIT: '1000000',
    WEB_URL: `http://127.0.0.1:${webPort}`,
    ...overrides,
  });
  const app = await createApp(env);
  await app.listen(0, '127.0.0.1');
  const { port } = app.getHttpServer().address() as { port: number };
  const base = `http://127.0.0.1:${port}`;
  await untilAnswers(`http://127.0.0.1:${webPort}/sign-in`);
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: FLAGS });
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
      const gone = new Promise((resolve) => web.once('exit', resolve));
      web.kill('SIGTERM');
      await gone;
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
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    const text = message.text();
    // A 401 before sign-in is how the page learns that nobody is signed in.
    if (message.type() === 'error' && !text.includes('status of 401')) complaints.push(text);
  });
  if (name !== null) await signIn(page, name);
  return { context, page, complaints };
}

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
  await session.send('Runtime.evaluate', { expression: axe.source });
  const { result } = await session.send('Runtime.evaluate', {
    expression: `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
      .then((found) => JSON.stringify(found.violations.map((one) => one.id + ': ' + one.nodes.map((node) => node.target.join(' ')).join(', '))))`,
    awaitPromise: true,
    returnByValue: true,
  });
  return JSON.parse(String(result.value)) as string[];
}
