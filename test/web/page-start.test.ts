import type { BrowserContext, Page } from 'playwright-core';
import { PASSWORD } from '../support/api.js';
import { startStack, type Stack } from '../support/stack.js';

/** As large as the phones that most people have. */
const PHONE = { width: 412, height: 823 };
/** A page that is not seen brings its scripts by itself after so long [ms]. */
const WAIT_MS = 3_000;

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const PAGES: readonly [address: string, name: string | null][] = [
  ['/sign-in', null],
  ['/fleet', 'lead'],
  ['/machines/[id]', 'lead'],
  ['/portal', 'viewer'],
  ['/calculations', 'lead'],
];

async function addressOf(address: string, context: BrowserContext): Promise<string> {
  if (!address.includes('[id]')) return address;
  const answer = await context.request.get('/api/v1/circuits/standings');
  const { items } = (await answer.json()) as { items: { machineId: string }[] };
  return address.replace('[id]', items[0]?.machineId ?? '');
}

interface Start {
  seenMs: number;
  /** when the script that brings the others was there */
  startedMs: number;
  /** when each of the others was asked for */
  askedMs: number[];
}
async function readStart(page: Page): Promise<Start> {
  await page.waitForLoadState('networkidle');
  return page.evaluate(() => {
    const scripts = performance
      .getEntriesByType('resource')
      .filter((entry) => entry instanceof PerformanceResourceTiming && new URL(entry.name).pathname.endsWith('.js'));
    const start = scripts.find(({ name }) => /\/start-\w+\.js$/.test(name));
    return {
      seenMs: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN,
      startedMs: start instanceof PerformanceResourceTiming ? start.responseEnd : NaN,
      askedMs: scripts.filter((entry) => entry !== start).map(({ startTime }) => startTime),
    };
  });
}

describe('the scripts of a page', () => {
  it.each(PAGES)('%s are asked for once it was seen, so that they hold up nothing of it', async (address, name) => {
    const { page, context, complaints } = await stack.as(name, PHONE);
    await page.goto(await addressOf(address, context));
    const { seenMs, askedMs } = await readStart(page);
    expect(askedMs.length).toBeGreaterThan(8);
    expect(askedMs.filter((ms) => !(ms >= seenMs))).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  /** A browser that says nothing of what it paints. */
  const sayNothing = (): void => {
    PerformanceObserver.prototype.observe = () => undefined;
  };

  it('come after a while where the browser does not say that anything is seen', async () => {
    const { page, context } = await stack.as('lead');
    await context.addInitScript(sayNothing);
    await page.goto('/calculations');
    const { startedMs, askedMs } = await readStart(page);
    expect(askedMs.length).toBeGreaterThan(8);
    expect(Math.min(...askedMs) - startedMs).toBeGreaterThan(WAIT_MS - 100);
    await context.close();
  });

  it('come at once in a tab that nobody looks at', async () => {
    const { page, context } = await stack.as('lead');
    await context.addInitScript(sayNothing);
    await context.addInitScript(() => Object.defineProperty(Document.prototype, 'hidden', { get: () => true }));
    await page.goto('/calculations');
    const { startedMs, askedMs } = await readStart(page);
    expect(Math.min(...askedMs) - startedMs).toBeLessThan(WAIT_MS - 500);
    await context.close();
  });
});

/** Notes what changes of the document itself, and which rows go, from the first tag on. */
async function noteChanges(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const changes: string[] = [];
    Object.assign(window, { changes });
    new MutationObserver((records) => {
      for (const { attributeName, target, removedNodes } of records) {
        if (attributeName !== null && target === document.documentElement) changes.push(`html ${attributeName}`);
        for (const node of removedNodes) {
          if (node instanceof HTMLElement && node.dataset['row'] !== undefined) changes.push('row removed');
        }
      }
    }).observe(document, { attributes: true, childList: true, subtree: true });
  });
}
const listChanges = (page: Page): Promise<string[]> =>
  page.evaluate(() => (window as unknown as { changes: string[] }).changes);

/** Holds the scripts of a page back. @returns lets them come */
async function holdScripts(page: Page): Promise<() => void> {
  let bring = (): void => undefined;
  const brought = new Promise<void>((done) => {
    bring = done;
  });
  await page.route(/chunks\/(?!start-).*\.js$/, async (route) => {
    await brought;
    await route.continue();
  });
  return bring;
}

describe('a list that is read before its scripts have come', () => {
  it.each(['/fleet', '/calculations', '/component-types'])(
    '%s: takes over what is typed into its search field, and goes by it; nothing else can be pressed before',
    async (address) => {
      const { context, complaints } = await stack.as('lead', PHONE);
      // A page of its own: the others wait until they answer.
      const page = await stack.browser
        .newContext({ baseURL: stack.base, viewport: PHONE, storageState: await context.storageState() })
        .then((own) => own.newPage());
      const bring = await holdScripts(page);
      await page.goto(address, { waitUntil: 'commit' });
      const field = page.getByRole('searchbox').first();
      await field.click();
      await page.keyboard.type('pump');
      const pressed = page
        .locator('#main')
        .locator('xpath=..')
        .locator('button, a[href], select')
        .filter({ visible: true });
      expect(await pressed.count()).toBeGreaterThan(3);
      const catching = await pressed.evaluateAll((controls) =>
        controls
          .filter((control) => getComputedStyle(control).pointerEvents !== 'none')
          .map(({ outerHTML }) => outerHTML),
      );
      expect(catching).toEqual([]);
      bring();
      await page.waitForURL((url) => url.search === '?search=pump');
      await page.keyboard.type('s');
      await page.waitForURL((url) => url.search === '?search=pumps');
      expect(await field.inputValue()).toBe('pumps');
      expect(complaints).toEqual([]);
      await page.context().close();
      await context.close();
    },
  );
});

describe('a form that is read before its scripts have come', () => {
  it('keeps what is typed into it, key by key, and is not sent before', async () => {
    const context = await stack.browser.newContext({ baseURL: stack.base, viewport: PHONE });
    const page = await context.newPage();
    const bring = await holdScripts(page);
    await page.goto('/sign-in', { waitUntil: 'commit' });
    await page.getByLabel('E-mail').click();
    await page.keyboard.type('lead@demo.example');
    await page.keyboard.press('Tab');
    await page.keyboard.type(PASSWORD);
    await page.keyboard.press('Enter');
    bring();
    await page.getByRole('button', { name: 'Sign in', exact: true }).click();
    await page.waitForURL(/\/fleet$/);
    await context.close();
  });
});

describe('a page that takes over what the server has drawn', () => {
  it.each(PAGES)('%s changes nothing of all of it, which would be styled anew', async (address, name) => {
    const { page, context } = await stack.as(name, PHONE);
    await noteChanges(context);
    await page.goto(await addressOf(address, context));
    expect(await listChanges(page)).toEqual([]);
    await context.close();
  });

  it('keeps the rows of the fleet that came with it, and draws their pressure ladders once', async () => {
    const { page, context } = await stack.as('lead', PHONE);
    await noteChanges(context);
    const came = await (await context.request.get('/fleet', { headers: { 'sec-fetch-dest': 'document' } })).text();
    await page.goto('/fleet');
    await page.waitForLoadState('networkidle');
    expect(await listChanges(page)).toEqual([]);
    const drawn = await page.locator('tr[data-row]').evaluateAll((rows) => rows.map((row) => row.innerHTML));
    const ladders = (html: string): string[] => html.match(/<svg[^>]*class="pl-mini".*?<\/svg>/gs) ?? [];
    const first = ladders(came);
    expect(first.length).toBeGreaterThan(3);
    expect(ladders(drawn.join('')).slice(0, first.length).map(toWidth)).toEqual(first.map(toWidth));
    await context.close();
  });

  it('asks for what it shows one after the other, between which it answers', async () => {
    const { page, context } = await stack.as('lead', PHONE);
    await context.addInitScript(() => {
      const asked: string[] = [];
      let inThisPiece = 0;
      const send = window.fetch;
      window.fetch = (...call) => {
        inThisPiece += 1;
        if (inThisPiece > 1) asked.push(String(call[0]));
        queueMicrotask(() => (inThisPiece = 0));
        return send(...call);
      };
      Object.assign(window, { asked });
    });
    const asking: string[] = [];
    page.on('request', (request) => (request.url().includes('/api/v1/') ? asking.push(request.url()) : 0));
    await page.goto(await addressOf('/machines/[id]', context));
    await page.waitForLoadState('networkidle');
    expect(asking.length).toBeGreaterThan(3);
    expect(await page.evaluate(() => (window as unknown as { asked: string[] }).asked)).toEqual([]);
    await context.close();
  });
});

const toWidth = (svg: string): string => /viewBox="([^"]+)"/.exec(svg)?.[1] ?? svg;
