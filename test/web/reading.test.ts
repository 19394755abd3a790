import type { Page } from 'playwright-core';
import { startStack, violationsOf, type Stack, type Visit } from '../support/stack.js';

let stack: Stack;
let machine: string;
let record: string;
let type: string;
let issue: string;
let customer: string;
let viewed: string;
let fixture: string;

beforeAll(async () => {
  stack = await startStack();
  const { page, context } = await stack.as('engineer');
  const first = async (path: string): Promise<Record<string, string>> =>
    ((await (await page.request.get(`/api/v1${path}`)).json()) as { items: Record<string, string>[] }).items[0] ?? {};
  machine = (await first('/circuits/standings')).machineId ?? '';
  record = (await first('/sizing-records')).id ?? '';
  type = (await first('/component-types')).id ?? '';
  issue = (await first('/issues')).id ?? '';
  customer = (await first('/customers')).id ?? '';
  fixture = (await first('/fixtures')).id ?? '';
  await context.close();
  const viewer = await stack.as('viewer');
  const { items } = (await (await viewer.page.request.get('/api/v1/machines')).json()) as { items: { id: string }[] };
  viewed = items[0]?.id ?? '';
  await viewer.context.close();
}, 180_000);
afterAll(() => stack.stop());

const SIZES = {
  phone: { width: 360, height: 900 },
  tablet: { width: 820, height: 1180 },
  desk: { width: 1440, height: 900 },
} as const;

const pages = (): [string, string][] => [
  ['/fleet', 'engineer'],
  [`/machines/${machine}`, 'engineer'],
  [`/machines/${machine}/control`, 'engineer'],
  [`/fixtures/${fixture}`, 'engineer'],
  [`/sizing-records/${record}`, 'engineer'],
  ['/component-types', 'engineer'],
  [`/component-types/${type}`, 'engineer'],
  ['/issues', 'engineer'],
  [`/issues/${issue}`, 'engineer'],
  ['/customers', 'engineer'],
  [`/customers/${customer}`, 'engineer'],
  ['/calculations', 'engineer'],
  ['/calculations/switch-window', 'engineer'],
  ['/account', 'engineer'],
  ['/reference', 'engineer'],
  ['/portal', 'viewer'],
  [`/portal/machines/${viewed}`, 'viewer'],
];

/** Walks through the pages of a reader in two tabs: while one waits for its network to be quiet, the other is looked at. */
async function walk(visit: Visit, who: string, look: (page: Page, path: string) => Promise<void>): Promise<void> {
  const waiting = pages().flatMap(([path, reader]) => (reader === who ? [path] : []));
  expect(waiting.length).toBeGreaterThan(1);
  const inTab = async (page: Page): Promise<void> => {
    for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) await look(page, path);
  };
  await Promise.all([inTab(visit.page), inTab(await visit.context.newPage())]);
}

async function settle(page: Page, path: string): Promise<void> {
  await page.goto(path);
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  await page.waitForLoadState('networkidle');
}

/** How far the page reaches sideways beyond the window, and controls that a finger would miss. */
const misfitsOf = (page: Page): Promise<{ beyond: number; small: string[] }> =>
  page.evaluate(() => {
    const beyond = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    const small = [...document.querySelectorAll<HTMLElement>('button, select, input:not([type=hidden]), nav a')]
      .map((element) => ({ box: element.getBoundingClientRect(), name: element.textContent || element.id }))
      .filter(({ box }) => box.width > 1 && box.height > 1 && (box.width < 24 || box.height < 24))
      .map(({ name, box }) => `${name} ${Math.round(box.width)}x${Math.round(box.height)}`);
    return { beyond, small };
  });

describe('every page', () => {
  it('would not hide an error: what the browser complains about in any tab is collected', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const other = await context.newPage();
    for (const [tab, name] of [
      [page, 'first'],
      [other, 'second'],
    ] as const) {
      await tab.goto('/account');
      const thrown = context.waitForEvent('weberror');
      await tab.evaluate((text) => {
        console.error(`said in the ${text}`);
        setTimeout(() => {
          throw new Error(`thrown in the ${text}`);
        });
      }, name);
      await thrown;
    }
    expect(complaints).toEqual([
      'said in the first',
      'thrown in the first',
      'said in the second',
      'thrown in the second',
    ]);
    await context.close();
  });

  it.each([
    ['light', [SIZES.desk, SIZES.tablet]],
    ['dark', [SIZES.phone, SIZES.desk]],
  ] as const)(
    'in the %s theme: nothing that axe calls a barrier, nothing scrolls sideways, a finger hits every control, no complaint of the browser',
    async (theme, [first, second]) => {
      for (const who of ['engineer', 'viewer']) {
        const visit = await stack.as(who, { theme, ...first });
        await walk(visit, who, async (page, path) => {
          await page.setViewportSize(first);
          await settle(page, path);
          for (const size of [first, second]) {
            await page.setViewportSize(size);
            // Two frames: what follows the width is drawn in the first.
            await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
            expect([path, size, await misfitsOf(page)]).toEqual([path, size, { beyond: 0, small: [] }]);
            if (size === SIZES.desk) expect([path, await violationsOf(page)]).toEqual([path, []]);
          }
        });
        expect(visit.complaints).toEqual([]);
        await visit.context.close();
      }
    },
    240_000,
  );

  it('in a language that is not English no English is left standing', async () => {
    const { page, context } = await stack.as('engineer');
    for (const path of ['/fleet', '/issues', '/component-types', '/account']) {
      await page.goto(`${path}?locale=pseudo`);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      const plain = await page.getByRole('heading', { level: 1 }).first().textContent();
      expect(plain).not.toMatch(/\b(circuits|need you|Issues|Component types|settings)\b/);
    }
    await context.close();
  });

  it('a healthy row is grey: colour stands for a status alone', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/fleet?status=holds');
    await page.getByRole('row').nth(3).waitFor();
    await page.waitForLoadState('networkidle');
    const shot = (await page.screenshot({ type: 'png' })).toString('base64');
    const share = await page.evaluate(async (data) => {
      const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
      const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const canvas = new OffscreenCanvas(image.width, image.height);
      const context2d = canvas.getContext('2d');
      if (context2d === null) throw new Error('no canvas');
      context2d.drawImage(image, 0, 0);
      const { data: pixels } = context2d.getImageData(0, 0, image.width, image.height);
      let saturated = 0;
      for (let index = 0; index < pixels.length; index += 4) {
        const [r = 0, g = 0, b = 0] = [pixels[index], pixels[index + 1], pixels[index + 2]];
        const highest = Math.max(r, g, b);
        if (highest > 0 && (highest - Math.min(r, g, b)) / highest > 0.4) saturated += 1;
      }
      return saturated / (pixels.length / 4);
    }, shot);
    expect(share).toBeGreaterThan(0);
    expect(share).toBeLessThan(0.01);
    await context.close();
  });

  it('a name that is one long word pushes no column of the audit trail off the page', async () => {
    const { page, context } = await stack.as('engineer', SIZES.tablet);
    await page.goto('/customers');
    const id = `0194eda9-c529-7881-b02d-${'9'.repeat(12)}`;
    const answer = await page.request.post('/api/v1/customers', {
      data: { id, name: 'W'.repeat(120) },
      headers: { 'idempotency-key': `"${id}"`, origin: new URL(page.url()).origin },
    });
    expect(answer.status()).toBe(201);
    await page.goto('/audit');
    await page.getByText('W'.repeat(120)).first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBe(0);
    const seal = page.getByRole('columnheader', { name: 'Seal' });
    expect(await seal.evaluate((cell) => cell.getBoundingClientRect().right <= window.innerWidth)).toBe(true);
    await context.close();
  });
});
