import type { Page } from 'playwright-core';
import { signIn, startStack, type Stack } from '../support/stack.js';

let stack: Stack;
let machine: string;

beforeAll(async () => {
  stack = await startStack();
  const { page, context } = await stack.as('engineer');
  const answer = (await (await page.request.get('/api/v1/circuits/standings')).json()) as {
    items: { machineId: string }[];
  };
  const numbers = new Map<string, number>();
  for (const { machineId } of answer.items) numbers.set(machineId, (numbers.get(machineId) ?? 0) + 1);
  // Of the machines in the worst standing one with two circuits, whose columns stand side by side.
  machine = [...numbers].find(([, count]) => count > 1)?.[0] ?? '';
  expect(machine).not.toBe('');
  await context.close();
}, 180_000);
afterAll(() => stack.stop());

async function open(page: Page, behind = ''): Promise<void> {
  await page.goto(`/machines/${machine}${behind}`);
  await page.getByRole('navigation', { name: 'Sections of this page' }).waitFor();
  await page.waitForLoadState('networkidle');
}
const bar = (page: Page) => page.getByRole('navigation', { name: 'Sections of this page' });
const heading = (page: Page, id: string) => page.locator(`#${id} > div h2 button`).first();
const isOpen = (page: Page, id: string): Promise<string | null> => heading(page, id).getAttribute('aria-expanded');

describe('the sections of the machine page', () => {
  it('leave less than 5,000 pixels to a phone, are jumped to with a thumb, and stay as they were left', async () => {
    const { page, context, complaints } = await stack.as('engineer', { width: 360, height: 740 });
    await open(page);
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThan(5000);
    expect([await isOpen(page, 'ladder'), await isOpen(page, 'components')]).toEqual(['true', 'false']);
    for (const target of await bar(page).locator('a, button').all()) {
      expect((await target.boundingBox())?.height).toBeGreaterThanOrEqual(48);
    }
    await bar(page).getByRole('link', { name: 'Components' }).click();
    expect(await isOpen(page, 'components')).toBe('true');
    await expect(topOf(page, '#components')).resolves.toBeLessThan(90);
    // The bar is still there for the next jump, and the page did not move sideways.
    await expect(topOf(page, 'nav[aria-label="Sections of this page"]')).resolves.toBe(0);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await page.reload();
    await bar(page).waitFor();
    await page.waitForLoadState('networkidle');
    expect([await isOpen(page, 'components'), await isOpen(page, 'plant')]).toEqual(['true', 'false']);
    await bar(page).getByRole('button', { name: 'Open all' }).click();
    expect(await isOpen(page, 'plant')).toBe('true');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('stand below the day that is looked at, of which none to come can be chosen', async () => {
    const { page, context } = await stack.as('engineer');
    await open(page);
    const { timeZone } = (await (await page.request.get(`/api/v1/machines/${machine}`)).json()) as { timeZone: string };
    const today = (): string => new Intl.DateTimeFormat('sv-SE', { timeZone }).format(new Date());
    const day = page.getByLabel('As on', { exact: true });
    const before = today();
    await day.focus();
    const latest = await day.getAttribute('max');
    // Midnight may pass in between.
    expect([before, today()]).toContain(latest);
    await context.close();
  });

  it('are opened and closed by the keyboard, and by a link that names one', async () => {
    const { page, context } = await stack.as('engineer');
    await open(page);
    await bar(page).getByRole('link', { name: 'Circuits' }).focus();
    await page.keyboard.press('Enter');
    // Where it leads the keyboard is, too.
    await page.waitForFunction(() => document.activeElement?.closest('section')?.id === 'plant');
    await page.keyboard.press('Enter');
    expect(await isOpen(page, 'plant')).toBe('false');
    await page.keyboard.press('Space');
    expect(await isOpen(page, 'plant')).toBe('true');
    await page.keyboard.press('Enter');
    await open(page, '#plant');
    await page.reload();
    await page.waitForFunction(() => document.activeElement?.closest('section')?.id === 'plant');
    expect(await isOpen(page, 'plant')).toBe('true');
    await context.close();
  });

  it('are somebody’s own, and all open on paper', async () => {
    const { page, context } = await stack.as('engineer');
    await open(page);
    await bar(page).getByRole('button', { name: 'Close all' }).click();
    const body = page.locator('#components-body');
    expect(await body.isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    expect(await body.isVisible()).toBe(true);
    expect(await bar(page).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    // Somebody else at the same browser.
    await context.clearCookies();
    await signIn(page, 'lead');
    await open(page);
    expect(await isOpen(page, 'components')).toBe('true');
    await context.close();
  });
});

const topOf = (page: Page, selector: string): Promise<number> =>
  page.evaluate((one) => Math.round(document.querySelector(one)?.getBoundingClientRect().top ?? -1), selector);

describe('a mark that stands for several components', () => {
  it('opens their pressure on the circuit whose column it stands in', async () => {
    const { page, context } = await stack.as('engineer', { width: 360, height: 740 });
    await open(page);
    const marks = page.locator('[data-rung^="rating"]', { hasText: /\d components/ });
    const circuits = await marks.evaluateAll((all) => all.map((one) => one.getAttribute('data-circuit')));
    expect(new Set(circuits).size).toBeGreaterThan(1);
    const last = marks.last();
    const name = await page
      .locator('[data-rung]')
      .last()
      .evaluate((one) => one.getAttribute('data-circuit'));
    await last.focus();
    await page.keyboard.press('Enter');
    const detail = page.locator('#ladder [role=status] h3').first();
    await detail.waitFor();
    expect(await detail.textContent()).toMatch(/^.+: \d components rated \d+/);
    expect(page.url()).toContain(`circuit=${name ?? 'none'}`);
    await page.waitForFunction(() => {
      const box = document.querySelector('#ladder [role=status] h3')?.getBoundingClientRect();
      return box !== undefined && box.top >= 0 && box.top < window.innerHeight;
    });
    await context.close();
  });
});

describe('what was done', () => {
  it('stands under the day that it was at the machine, as what was fitted does', async () => {
    const { page, context } = await stack.as('installer');
    const answer = (await (await page.request.get(`/api/v1/machines/${machine}`)).json()) as { timeZone: string };
    // Everywhere in these time zones it was the next day by then.
    expect(answer.timeZone).toMatch(/^Europe\//);
    const body = {
      id: '0198b524-c8a6-7476-9a16-fe971d650001',
      machineId: machine,
      kind: 'adjusted',
      occurredAt: '2026-07-14T23:30:00Z',
      text: 'late in the evening',
      personName: 'Rui Calvane',
    };
    const headers = { 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${crypto.randomUUID()}"` };
    const made = await page.request.post('/api/v1/service-events', { data: body, headers });
    expect(made.status()).toBe(201);
    await open(page, '#events');
    const row = page.locator('#events').getByRole('row').filter({ hasText: 'late in the evening' });
    await row.waitFor();
    expect(await row.textContent()).toContain('15 Jul 2026');
    await context.close();
  });
});
