import type { Page } from 'playwright-core';
import { signIn, startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const UNSENT = /You typed something here on .+ and did not send it: (.+)\. Open it to go on\./;

async function openMachine(page: Page): Promise<string> {
  await page.goto('/fleet');
  await page.getByRole('row').filter({ hasText: 'F-231' }).getByRole('link').first().click();
  await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
  return new URL(page.url()).pathname;
}

async function typeTarget(page: Page, setting: string): Promise<void> {
  await page.getByRole('button', { name: 'Release a new target' }).click();
  await page.getByLabel('Setting', { exact: true }).fill(setting);
}

const readKept = (page: Page): Promise<string> => page.evaluate(() => JSON.stringify({ ...localStorage }));

describe('what was typed and not sent', () => {
  it('is there when the browser is opened again, is offered in words, and goes once it is sent', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const path = await openMachine(page);
    await typeTarget(page, '2050 psi');
    // Left, the field gives its unit to the choice beside it; closing a page may leave it as well, or not.
    await page.keyboard.press('Tab');
    const unitOf = (form: Page) =>
      form.getByLabel('Unit of Setting', { exact: true }).locator('option:checked').filter({ hasText: 'psi' });
    await unitOf(page).waitFor({ state: 'attached' });
    await page.close();

    const again = await context.newPage();
    await again.goto(path);
    const note = again.getByText(UNSENT);
    await note.waitFor();
    expect(UNSENT.exec((await note.textContent()) ?? '')?.[1]).toMatch(/target/i);
    await again.getByRole('button', { name: 'Release a new target' }).click();
    const form = again.getByRole('dialog');
    await form.getByText(/What you typed on .+ is here again\. It was not sent\./).waitFor();
    expect(await form.getByLabel('Setting', { exact: true }).inputValue()).toBe('2050');
    await unitOf(again).waitFor({ state: 'attached' });
    expect(await note.count()).toBe(0);
    await form.getByLabel('Why').fill('the new fixture is rated lower');
    await form.getByRole('button', { name: /Release revision/ }).click();
    await form.getByRole('button', { name: 'Save all the same' }).click();
    await form.waitFor({ state: 'detached' });
    expect(await readKept(again)).not.toContain('2050');
    await again.reload();
    await again.getByRole('heading', { level: 1 }).first().waitFor();
    expect(await again.getByText(UNSENT).count()).toBe(0);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is thrown away where it is offered, and with signing out', async () => {
    const { page, context } = await stack.as('engineer');
    const path = await openMachine(page);
    await typeTarget(page, '1999 psi');
    await page.goto(path);
    await page.getByText(UNSENT).waitFor();
    await page.getByRole('button', { name: 'Throw away what is typed' }).click();
    await page.getByText(UNSENT).waitFor({ state: 'detached' });
    expect(await readKept(page)).not.toContain('1999');

    await typeTarget(page, '1888 psi');
    await page.getByRole('dialog').getByRole('button', { name: 'Close' }).click();
    expect(await readKept(page)).toContain('1888');
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.waitForURL(/sign-in/);
    expect(await readKept(page)).not.toContain('1888');
    await context.close();
  });

  it('is nobody else’s: another person at the same browser finds nothing', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/issues/new');
    await page.getByLabel('Title').fill('Weeps at the banjo');
    await page.reload();
    await page.getByText(/What you typed on .+ is here again/).waitFor();
    await context.clearCookies();
    await signIn(page, 'lead');
    await page.goto('/issues/new');
    const title = page.getByLabel('Title');
    await title.waitFor();
    expect(await title.inputValue()).toBe('');
    expect(await page.getByText(/What you typed|You typed something/).count()).toBe(0);
    await context.close();
  });

  it('is never a secret: not in a form of passwords, nor in one whose other words are kept', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/account');
    await page.getByLabel('Present password').fill('a present secret');
    await page.getByLabel('New password').fill('a coming secret');
    await page.goto('/organisation');
    await page.getByRole('button', { name: /sign-in/i }).click();
    const form = page.getByRole('dialog');
    await form.getByRole('textbox').first().fill('Works directory');
    await form.locator('input[type=password]').fill('a client secret');
    const kept = await readKept(page);
    expect(kept).toContain('Works directory');
    expect(kept).not.toMatch(/a (present|coming|client) secret/);
    await context.close();
  });
});

describe('a form', () => {
  it('takes the focus to what is wrong once, and an error goes as soon as its field is right', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/issues/new');
    await page.getByRole('button', { name: 'Open the issue' }).click();
    const summary = page.getByRole('main').getByRole('alert');
    await summary.getByText(/stands? in the way/).waitFor();
    expect(await summary.evaluate((box) => box === document.activeElement)).toBe(true);
    const title = page.getByLabel('Title');
    await summary.getByRole('link', { name: /Title/ }).click();
    expect(await title.evaluate((field) => field === document.activeElement)).toBe(true);
    await page.keyboard.type('Weeps at the banjo');
    expect(await title.inputValue()).toBe('Weeps at the banjo');
    expect(await summary.getByRole('link').allTextContents()).toEqual(['Machine is missing']);
    await page.getByLabel('Machine').selectOption({ index: 1 });
    await summary.waitFor({ state: 'detached' });
    expect(await page.getByLabel('Machine').evaluate((field) => field.getAttribute('aria-invalid'))).toBeNull();
    await context.close();
  });
});
