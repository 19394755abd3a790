import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';
import { typeKeys } from './support/keys.js';
import { INSTALLED_BASE } from './support/import-file.js';

const PHONE = { width: 360, height: 780 };

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

/** How much wider the page is than the screen; what is wider by itself is moved sideways by itself. */
const widerBy = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
/** Goes on from where one is to a button, by Tab, and presses it. */
async function press(page: Page, name: string, most: number): Promise<void> {
  const button = page.getByRole('button', { name, exact: true });
  await button.waitFor();
  const isThere = (): Promise<boolean> => button.evaluate((one) => one === document.activeElement);
  let tabs = 0;
  for (; !(await isThere()); tabs += 1) {
    expect(`${name} after ${tabs} of ${most}`).toBe(`${name} after ${Math.min(tabs, most)} of ${most}`);
    await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Enter');
}
const untilFocused = (page: Page, selector: string): Promise<unknown> =>
  page.waitForFunction((wanted) => document.activeElement?.matches(wanted) === true, selector);
const STEPS = 'ol[aria-label="Steps"]';

describe('an import on a phone, by keys', () => {
  it('goes from its file to its undo, and no page of it is wider than the screen', async () => {
    const { page, context, complaints } = await stack.as('engineer', PHONE);
    await page.goto('/imports');
    expect(await widerBy(page)).toBe(0);
    await page.locator('input[type=file]').setInputFiles(INSTALLED_BASE);
    await page.getByRole('heading', { level: 1, name: 'installed base.csv' }).waitFor();
    await page.getByText('1 question is open: something reads two ways.').waitFor();
    expect(await widerBy(page)).toBe(0);
    await page.getByLabel('Which comes first in H, day or month?').focus();
    await page.keyboard.type('day');
    await page.getByText('1 question is open').waitFor({ state: 'detached' });
    await page.getByLabel('What', { exact: true }).focus();
    await page.keyboard.type('Time zone');
    await page.keyboard.press('Tab');
    await typeKeys(page, 'Europe/Lisbon');
    await press(page, 'Add', 1);
    await page.getByText('Time zone: Europe/Lisbon').waitFor();
    await press(page, 'Show what would happen', 3);
    await untilFocused(page, STEPS);
    await page.getByRole('heading', { name: 'What would happen' }).waitFor();
    await page.getByText('“hose” is none of').waitFor();
    expect(await widerBy(page)).toBe(0);
    await press(page, 'Write it without the refused rows', 3);
    await untilFocused(page, STEPS);
    await page.getByText(/^Written on/).waitFor();
    expect(await widerBy(page)).toBe(0);
    await press(page, 'Undo this import', 5);
    await untilFocused(page, 'div:has(> [role=alert])');
    expect(await widerBy(page)).toBe(0);
    await press(page, 'Keep it', 2);
    await press(page, 'Undo this import', 4);
    await press(page, 'Undo it', 1);
    await untilFocused(page, STEPS);
    await page.getByText(/This import was undone/).waitFor();
    expect(await widerBy(page)).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
