import type { Page, Request } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const FAST = { delay: 5 };
const COPIES = /\/machines\/[^/]+\/copies$/;

async function openMachine(page: Page): Promise<string> {
  const answer = await page.request.get('/api/v1/machines?limit=1');
  const { items } = (await answer.json()) as { items: { id: string }[] };
  await page.goto(`/machines/${items[0]?.id ?? ''}`);
  await page.getByRole('button', { name: 'Copy', exact: true }).waitFor();
  await page.waitForLoadState('networkidle');
  return items[0]?.id ?? '';
}

/** What arrives is done, and its answer is lost, so often. */
async function loseAnswers(page: Page, times: number): Promise<Request[]> {
  const sent: Request[] = [];
  await page.route(COPIES, async (route) => {
    sent.push(route.request());
    if (sent.length > times) return route.continue();
    await route.fetch();
    return route.abort('connectionreset');
  });
  return sent;
}

describe('a copy whose answer was lost', () => {
  it('is the same copy when it is sent again, after a reload too', async () => {
    const { page, context } = await stack.as('engineer');
    const likeId = await openMachine(page);
    const sent = await loseAnswers(page, 2);
    const form = page.getByRole('dialog');
    const send = (): Promise<void> => form.getByRole('button', { name: 'Make the copy' }).click();
    const loss = (): Promise<Request> => page.waitForEvent('requestfailed', (request) => COPIES.test(request.url()));
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    await form.getByLabel('Machine', { exact: true }).pressSequentially('Made once', FAST);
    for (let times = 0; times < 2; times += 1) {
      const lost = loss();
      await send();
      await lost;
      await form.getByRole('alert').waitFor();
      await form.getByRole('button', { name: 'Make the copy' }).waitFor();
    }
    await page.reload();
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    expect(await form.getByLabel('Machine', { exact: true }).inputValue()).toBe('Made once');
    await send();
    await page.waitForURL((url) => /^\/machines\//.test(url.pathname) && !url.pathname.endsWith(likeId));
    await page.getByRole('heading', { level: 1, name: /Made once/ }).waitFor();
    const keys = sent.map((request) => request.headers()['idempotency-key']);
    expect(new Set(keys).size).toBe(1);
    expect(new Set(sent.map((request) => request.postData())).size).toBe(1);
    await context.close();
  });

  it('is another attempt as soon as the form changes', async () => {
    const { page, context } = await stack.as('engineer');
    await openMachine(page);
    const sent: Request[] = [];
    await page.route(COPIES, async (route) => {
      sent.push(route.request());
      await (sent.length === 1 ? route.abort('connectionreset') : route.continue());
    });
    const form = page.getByRole('dialog');
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    await form.getByLabel('Machine', { exact: true }).pressSequentially('First thought', FAST);
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await form.getByRole('alert').waitFor();
    await form.getByLabel('Serial').pressSequentially('S-77', FAST);
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await page.getByRole('heading', { level: 1, name: /First thought/ }).waitFor();
    expect(new Set(sent.map((request) => request.headers()['idempotency-key'])).size).toBe(2);
    await context.close();
  });
});

describe('what is typed to find one of many', () => {
  it('stays when the page behind moves, and finds it then', async () => {
    const { page, context } = await stack.as('engineer', { width: 1440, height: 500 });
    await openMachine(page);
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    const field = page.getByRole('dialog').getByRole('combobox', { name: 'Site', exact: true });
    await field.click();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('Wor', FAST);
    await page.getByRole('listbox').waitFor();
    // As a page does that grows while it loads.
    await page.evaluate(() => window.scrollBy(0, 60));
    await page.getByRole('listbox').waitFor({ state: 'detached' });
    expect(await field.inputValue()).toBe('Wor');
    await page.keyboard.type('ks', FAST);
    expect(await field.inputValue()).toBe('Works');
    await page.getByRole('listbox').waitFor();
    await context.close();
  });
});

describe('a part of the page that comes late', () => {
  it('says that the network is gone, comes when it is back, and loses nothing that was typed', async () => {
    const { page, context } = await stack.as('engineer');
    await openMachine(page);
    const dialog = page.getByRole('dialog');
    await page.getByRole('button', { name: 'Release a new target' }).click();
    await dialog.getByLabel('Setting', { exact: true }).fill('181.5');
    await dialog.getByRole('button', { name: 'Close' }).click();
    await context.setOffline(true);
    await page.getByRole('button', { name: 'Fit a component', exact: true }).click();
    const note = dialog.getByRole('alert');
    await note.getByText('There is no network.').waitFor();
    // Asked again too early it says so again.
    await note.getByRole('button', { name: 'Try again' }).click();
    await note.getByText('There is no network.').waitFor();
    await context.setOffline(false);
    await note.getByRole('button', { name: 'Try again' }).click();
    await dialog.getByLabel('Item').waitFor();
    await dialog.getByLabel('Item').fill('H7.70');
    await dialog.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Release a new target' }).click();
    expect(await dialog.getByLabel('Setting', { exact: true }).inputValue()).toBe('181.5');
    await dialog.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Fit a component', exact: true }).click();
    expect(await dialog.getByLabel('Item').inputValue()).toBe('H7.70');
    await context.close();
  });
});
