import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { Browser, BrowserContext, Page, Request } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

const APP = path.resolve(import.meta.dirname, '../../apps/web/src/app');
/** Scripts of one page at its first view, as they are sent [bytes]. */
const MOST_BYTES = 260_000;
/** The page on which everybody begins. */
const MOST_BYTES_OF_SIGN_IN = 180_000;
const TABS = 2;

type Cookies = Awaited<ReturnType<BrowserContext['storageState']>>;
/** Where one finds a record for each page that shows one: the list it stands in, and what names it there. */
const RECORDS: Readonly<Record<string, { list: string; name?: string }>> = {
  '/component-types/[id]': { list: '/component-types' },
  '/customers/[id]': { list: '/customers' },
  '/fixtures/[id]': { list: '/fixtures' },
  '/imports/[id]': { list: '/imports' },
  '/issues/[id]': { list: '/issues' },
  '/machines/[id]': { list: '/circuits/standings', name: 'machineId' },
  '/machines/[id]/control': { list: '/circuits/standings', name: 'machineId' },
  '/portal/machines/[id]': { list: '/machines' },
  '/sites/[id]': { list: '/sites' },
  '/sizing-records/[id]': { list: '/sizing-records' },
  '/sources/[id]': { list: '/sources' },
};
const CALCULATION = { '/calculations/[id]': 'switch-window' };

/** Every page that there is, as its folder says. */
const ROUTES = readdirSync(APP, { recursive: true, encoding: 'utf8' })
  .filter((file) => path.basename(file) === 'page.tsx')
  .map((file) => path.dirname(file).split(path.sep))
  .map((parts) => ({
    route: `/${parts.filter((part) => part !== '.' && !part.startsWith('(')).join('/')}`,
    isInside: parts.includes('(signed-in)'),
  }))
  .sort((a, b) => a.route.localeCompare(b.route));
const readerOf = (route: string): string => (route.startsWith('/portal') ? 'viewer' : 'admin');

let stack: Stack;
const people: Record<string, Cookies> = {};

beforeAll(async () => {
  stack = await startStack();
  for (const name of ['admin', 'viewer']) {
    const { page, context } = await stack.as(name);
    people[name] = await context.storageState();
    if (name === 'admin') await beginImport(page.request);
    await context.close();
  }
}, 180_000);
afterAll(() => stack.stop());

/** The demonstration has taken nothing in from a file. */
async function beginImport(request: BrowserContext['request']): Promise<void> {
  const headers = { 'idempotency-key': '"budget"', origin: stack.base };
  const data = { id: crypto.randomUUID(), fileName: 'machines.csv' };
  const made = await request.post('/api/v1/imports', { headers, data });
  expect([made.status(), await made.text()]).toEqual([201, expect.any(String)]);
}

/** A browser that has been nowhere yet, in which this person is signed in. */
const fresh = (browser: Browser, storageState: Cookies | undefined): Promise<BrowserContext> =>
  browser.newContext({ baseURL: stack.base, ...(storageState === undefined ? {} : { storageState }) });

async function addressOf(route: string, context: BrowserContext): Promise<string> {
  const calculation = CALCULATION[route as keyof typeof CALCULATION];
  const record = RECORDS[route];
  const list = record === undefined ? null : await context.request.get(`/api/v1${record.list}`);
  const { items } = (await (list?.json() ?? { items: [] })) as { items: Record<string, string>[] };
  const address = route.replace('[id]', calculation ?? items[0]?.[record?.name ?? 'id'] ?? '[id]');
  if (address.includes('[')) throw new Error(`There is nothing to show for ${route}`);
  return address;
}

interface Script {
  bytes: number;
  coding: string | undefined;
}
/** What has come over the network once: a browser that has a script does not ask for it again, one that has been nowhere does. */
const sent = new Map<string, Script>();

/** The scripts that a page takes until it is quiet, wherever they come from. */
async function listScripts(page: Page, route: string, isInside: boolean): Promise<string[]> {
  const taken = new Set<string>();
  const arriving: Promise<void>[] = [];
  const onFinished = (request: Request): void => {
    const { pathname } = new URL(request.url());
    if (request.resourceType() !== 'script' && !pathname.endsWith('.js')) return;
    taken.add(pathname);
    arriving.push(
      Promise.all([request.sizes(), request.response()]).then(([{ responseBodySize: bytes }, response]) => {
        const known = sent.get(pathname);
        if (known === undefined || known.bytes < bytes)
          sent.set(pathname, { bytes, coding: response?.headers()['content-encoding'] });
      }),
    );
  };
  page.on('requestfinished', onFinished);
  await page.goto(await addressOf(route, page.context()));
  await page.waitForLoadState('networkidle');
  // What is drawn once its data is here may bring more.
  if (isInside) await page.getByRole('heading', { level: 1 }).first().waitFor();
  await page.waitForLoadState('networkidle');
  await Promise.all(arriving);
  page.off('requestfinished', onFinished);
  return [...taken];
}

describe('scripts', () => {
  it('of every page stay within what a slow phone can take, and each comes compressed', async () => {
    expect(ROUTES.length).toBeGreaterThan(30);
    const listed: { route: string; scripts: string[] }[] = [];
    for (const name of [undefined, 'viewer', 'admin']) {
      const waiting = ROUTES.filter(({ route, isInside }) => (isInside ? readerOf(route) : undefined) === name);
      const context = await fresh(stack.browser, name === undefined ? undefined : people[name]);
      const inTab = async (): Promise<void> => {
        const page = await context.newPage();
        for (let next = waiting.shift(); next !== undefined; next = waiting.shift())
          listed.push({ route: next.route, scripts: await listScripts(page, next.route, next.isInside) });
      };
      await Promise.all(Array.from({ length: TABS }, inTab));
      await context.close();
    }
    expect(listed).toHaveLength(ROUTES.length);
    const weighed = listed.map(({ route, scripts }) => ({
      route,
      bytes: scripts.reduce((sum, url) => sum + (sent.get(url)?.bytes ?? 0), 0),
      plain: scripts.filter((url) => sent.get(url)?.coding !== 'br' && (sent.get(url)?.bytes ?? 0) > 1_000),
    }));
    expect(weighed.filter(({ bytes }) => bytes < 100_000)).toEqual([]);
    expect(weighed.flatMap(({ plain }) => plain)).toEqual([]);
    const heavy = weighed.filter(
      ({ route, bytes }) => bytes > (route === '/sign-in' ? MOST_BYTES_OF_SIGN_IN : MOST_BYTES),
    );
    expect(heavy).toEqual([]);
  }, 300_000);
});

/** Begins a script whose functions a browser compiles while it arrives, beside the page. */
const COMPILED_ON_ARRIVAL = '//# allFunctionsCalledOnLoad\n';

describe('scripts that come with a page', () => {
  it.each(['/sign-in', '/fleet', '/portal', '/machines/[id]', '/calculations'])(
    'of %s are compiled while they arrive, not function after function once they are called',
    async (route) => {
      const context = await fresh(stack.browser, route === '/sign-in' ? undefined : people[readerOf(route)]);
      const html = await (await context.request.get(await addressOf(route, context))).text();
      const [start = ''] = /\/_next\/static\/chunks\/start-\w+\.js/.exec(html) ?? [];
      const ofEveryPage = await (await context.request.get(start)).text();
      const scripts = new Set((html + ofEveryPage).match(/\/_next\/static\/chunks\/[\w.~-]+\.js/g));
      expect(scripts.size).toBeGreaterThan(8);
      const uncompiled: string[] = [];
      for (const script of scripts) {
        const text = await (await context.request.get(script)).text();
        if (!text.startsWith(COMPILED_ON_ARRIVAL)) uncompiled.push(script);
      }
      expect(uncompiled).toEqual([]);
      await context.close();
    },
  );
});

/** Pages that come with what they read first, and one of those reads. */
const FIRST: readonly [route: string, read: string][] = [
  ['/fleet', '/api/v1/circuits/standings?status=need&limit=40'],
  ['/portal', '/api/v1/circuits/standings?status=all&limit=25'],
  ['/machines/[id]', '/overview?basis=as-left'],
  ['/calculations', '/api/v1/calculations'],
];

/** All that the browser complains about from here on, as it comes. */
function complaintsIn(context: BrowserContext): string[] {
  const complaints: string[] = [];
  context.on('console', (message) => (message.type() === 'error' ? complaints.push(message.text()) : 0));
  context.on('weberror', (failure) => complaints.push(failure.error().message));
  return complaints;
}

describe('what a page reads first', () => {
  it.each(FIRST)('%s comes with it: it is read before any script, and not asked for again', async (route, read) => {
    const context = await fresh(stack.browser, people[readerOf(route)]);
    const address = await addressOf(route, context);
    const asked: string[] = [];
    const complaints = complaintsIn(context);
    context.on('request', (request) => {
      const { pathname, search } = new URL(request.url());
      if (pathname.startsWith('/api/')) asked.push(pathname + search);
    });
    const page = await context.newPage();
    await page.goto(address);
    const title = await page.getByRole('heading', { level: 1 }).first().textContent();
    await page.waitForLoadState('networkidle');
    expect(asked.filter((url) => url === '/api/v1/me' || url.endsWith(read))).toEqual([]);
    expect(asked.filter((url, at) => asked.indexOf(url) !== at)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();

    const plain = await stack.browser.newContext({
      baseURL: stack.base,
      javaScriptEnabled: false,
      storageState: people[readerOf(route)],
    });
    const unscripted = await plain.newPage();
    await unscripted.goto(address);
    expect(await unscripted.locator('h1').first().textContent()).toBe(title);
    // Read, not pressed: nothing would answer yet, but a search field, which takes over what is typed.
    const pressed = unscripted.locator('#main').locator('xpath=..').locator('button, a[href], select, summary');
    const catching = await pressed.evaluateAll((controls) =>
      controls
        .filter((control) => getComputedStyle(control).pointerEvents !== 'none')
        .map(({ outerHTML }) => outerHTML),
    );
    expect([await pressed.count(), catching]).toEqual([expect.any(Number), []]);
    expect(await pressed.count()).toBeGreaterThan(3);
    await plain.close();
  });

  it('holds nothing of anybody else, and is asked for by the page itself where it could not be read', async () => {
    const context = await fresh(stack.browser, undefined);
    const strange = await (await context.request.get('/fleet', { headers: { 'sec-fetch-dest': 'document' } })).text();
    expect(strange).not.toContain('organisationName');
    const reader = await fresh(stack.browser, people['admin']);
    const [plain, asked] = await Promise.all(
      ['/fleet', '/fleet?search=chosen'].map(async (address) =>
        (await reader.request.get(address, { headers: { 'sec-fetch-dest': 'document', 'x-api-port': '1' } })).text(),
      ),
    );
    // What a stranger may have chosen and what is somebody's own never travel in one compressed answer.
    expect([plain?.includes('organisationName'), asked?.includes('organisationName')]).toEqual([true, false]);
    await reader.close();
    const page = await context.newPage();
    await page.goto('/fleet');
    await page.waitForURL(/sign-in/);
    await context.close();
  });

  it('says dates by the clock of whoever reads, also where the server draws them', async () => {
    const context = await stack.browser.newContext({
      baseURL: stack.base,
      storageState: people['viewer'],
      timezoneId: 'Pacific/Auckland',
    });
    const complaints = complaintsIn(context);
    const page = await context.newPage();
    for (const visit of ['first', 'second']) {
      await page.goto('/portal');
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      await page.waitForFunction(() => document.cookie.includes('kedge-zone=Pacific%2FAuckland'));
      expect([visit, complaints]).toEqual([visit, []]);
    }
    await context.close();
  });
});
