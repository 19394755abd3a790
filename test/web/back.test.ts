import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';
import { typeKeys } from './support/keys.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const queryOf = (page: Page): string => new URL(page.url()).search;
const untilQuery = (page: Page, search: string): Promise<void> =>
  page.waitForURL((url) => url.search === search, { waitUntil: 'commit' });

describe('Back', () => {
  it('takes a filter of the fleet back, and then the word that was searched, and then leaves', async () => {
    const { page, context, complaints } = await stack.as('lead');
    await page.goto('/issues');
    await page.getByRole('link', { name: 'Fleet', exact: true }).click();
    await page.waitForURL(/\/fleet$/);
    const field = page.getByRole('searchbox');
    const rows = page.locator('tr[data-row]');
    await rows.first().waitFor();
    const before = await rows.count();

    await field.click();
    await typeKeys(page, 'VMC');
    await untilQuery(page, '?search=VMC');
    const status = page.getByLabel('Show', { exact: true });
    await status.focus();
    await page.keyboard.press('End');
    await untilQuery(page, '?search=VMC&status=holds');

    await page.goBack({ waitUntil: 'commit' });
    await untilQuery(page, '?search=VMC');
    expect([await field.inputValue(), await status.inputValue()]).toEqual(['VMC', 'need']);
    await page.goBack({ waitUntil: 'commit' });
    await untilQuery(page, '');
    expect(await field.inputValue()).toBe('');
    await page.waitForFunction((count) => document.querySelectorAll('tr[data-row]').length === count, before);
    await page.goForward({ waitUntil: 'commit' });
    await untilQuery(page, '?search=VMC');
    await page.waitForFunction(() => document.querySelector('input[type=search]:is([value=VMC])') !== null);
    await page.goBack({ waitUntil: 'commit' });
    await untilQuery(page, '');
    await page.goBack({ waitUntil: 'commit' });
    await page.waitForURL(/\/issues$/);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['/audit', 'Kind of record', '?entity=customer'],
    ['/component-types', 'Kind', null],
  ])('%s: takes one choice of a list back, gone through by arrow keys', async (address, label, chosen) => {
    const { page, context } = await stack.as('lead');
    await page.goto(address);
    const choice = page.getByLabel(label, { exact: true }).first();
    await choice.focus();
    await page.keyboard.press('ArrowDown');
    await page.waitForURL((url) => url.search !== '', { waitUntil: 'commit' });
    if (chosen !== null) expect(queryOf(page)).toBe(chosen);
    await page.goBack({ waitUntil: 'commit' });
    await untilQuery(page, '');
    expect(new URL(page.url()).pathname).toBe(address);
    expect(await choice.inputValue()).toBe('');
    await context.close();
  });

  it.each([
    ['/issues', 'Closed', '?show=closed'],
    ['/jobs', null, null],
  ])('%s: takes back what is shown of it', async (address, name, query) => {
    const { page, context } = await stack.as('lead');
    await page.goto(address);
    const choices = page
      .getByRole('group')
      .filter({ has: page.locator('button[aria-pressed]') })
      .first();
    const other = choices.locator('button[aria-pressed=false]').last();
    const chosen = name === null ? other : choices.getByRole('button', { name });
    await chosen.focus();
    await page.keyboard.press('Enter');
    await page.waitForURL((url) => url.search !== '', { waitUntil: 'commit' });
    if (query !== null) expect(queryOf(page)).toBe(query);
    await page.goBack({ waitUntil: 'commit' });
    await untilQuery(page, '');
    await page.waitForFunction(
      () => document.querySelector('[role=group] button')?.getAttribute('aria-pressed') === 'true',
    );
    expect(new URL(page.url()).pathname).toBe(address);
    await context.close();
  });
});
