import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

/** What the page asks the API for from now on, as `GET /machines/{id}`. */
function listen(page: Page): string[] {
  const asked: string[] = [];
  page.on('request', (request) => {
    const { pathname } = new URL(request.url());
    if (!pathname.startsWith('/api/v1/')) return;
    asked.push(`${request.method()} ${pathname.slice('/api/v1'.length).replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, '{id}')}`);
  });
  return asked;
}

async function openMachine(page: Page): Promise<void> {
  await page.goto('/fleet');
  await page.getByRole('row').filter({ hasText: 'F-231' }).getByRole('link').first().click();
  await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
  await page.waitForLoadState('networkidle');
}

describe('after a change on the machine page', () => {
  it('only what it touched is read again: an event is an event and nothing else', async () => {
    const { page, context } = await stack.as('engineer');
    const opening = listen(page);
    await openMachine(page);
    expect(opening.length).toBeGreaterThan(5);
    await page.getByRole('button', { name: 'Enter what was done' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('What', { exact: true }).fill('Bled the circuit');
    await page.waitForLoadState('networkidle');
    const asked = listen(page);
    await form.getByRole('button', { name: 'Enter what was done' }).click();
    await page.getByRole('cell', { name: /Bled the circuit/ }).waitFor();
    await page.waitForLoadState('networkidle');
    expect(asked).toEqual(['POST /service-events', 'GET /service-events']);
    await context.close();
  });

  it('a new target is read where circuits stand on it, and not where none does', async () => {
    const { page, context } = await stack.as('engineer');
    await openMachine(page);
    await page.getByRole('button', { name: 'Release a new target' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Setting', { exact: true }).fill('150');
    await form.getByLabel('Why').fill('a lower rating');
    await page.waitForLoadState('networkidle');
    const asked = listen(page);
    await form.getByRole('button', { name: /Release revision/ }).click();
    await form.getByRole('button', { name: 'Save all the same' }).click();
    await form.waitFor({ state: 'detached' });
    await page
      .getByText(/revision 2/)
      .first()
      .waitFor();
    await page.waitForLoadState('networkidle');
    expect(asked[0]).toBe('POST /target-settings');
    expect([...new Set(asked.slice(1))].sort()).toEqual([
      'GET /circuits/{id}/way-out',
      'GET /machines/{id}/overview',
      'GET /sizing-records',
    ]);
    await context.close();
  });
});
