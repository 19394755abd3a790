import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

async function makeType(page: Page): Promise<void> {
  const source = 'data sheet of the test';
  const figures = {
    ratedPressure: { value: 350, unit: 'bar', digits: 0, source },
    bore: { value: 25, unit: 'mm', digits: 0, source },
    contactStiffness: { value: 20, unit: 'kN/mm', digits: 0, source },
  };
  const made = await page.request.post('/api/v1/component-types', {
    headers: { 'idempotency-key': '"type"', origin: stack.base },
    data: { id: crypto.randomUUID(), kind: 'lever-clamp', name: 'Lever clamp of the test', figures },
  });
  expect([made.status(), await made.text()]).toEqual([201, expect.any(String)]);
}

test('an element takes its figures from a component type, says so, and may be typed over', async () => {
  const { page, context, complaints } = await stack.as('engineer');
  await makeType(page);
  const list = (await (await page.request.get('/api/v1/customers?limit=1')).json()) as { items: { id: string }[] };
  await page.goto(`/customers/${list.items[0]?.id ?? ''}`);
  await page.getByRole('button', { name: 'Add a fixture' }).click();
  const form = page.getByRole('dialog');
  await form.getByLabel('Fixture', { exact: true }).pressSequentially('F-901');
  await form.getByRole('button', { name: 'Add an element' }).click();
  const element = form.getByRole('group', { name: 'element 1' });
  await element.getByLabel('Of which component type').pressSequentially('Lever clamp of the t');
  await page.getByRole('listbox').getByRole('option').first().click();

  expect(await element.getByLabel('Name', { exact: true }).inputValue()).toBe('Lever clamp of the test');
  const rated = element.getByLabel('Rated pressure', { exact: true });
  expect(await rated.inputValue()).toBe('350');
  await element.getByText('How it moves').click();
  expect(await element.getByLabel('Kind of clamp').inputValue()).toBe('lever-clamp');
  // In the unit of its data sheet, though it is none of those that are offered.
  expect(await element.getByLabel('Contact stiffness', { exact: true }).inputValue()).toBe('20');
  expect(await element.getByLabel('Unit of Contact stiffness').inputValue()).toBe('kN/mm');
  expect(await element.getByText('From Lever clamp of the test, revision 1.').count()).toBe(3);

  await rated.click();
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type('250');
  expect(await rated.evaluate((field) => field === document.activeElement)).toBe(true);
  await element.getByText('Typed over: Lever clamp of the test, revision 1, says 350 bar.').waitFor();
  await form.getByRole('button', { name: 'Add a fixture' }).click();
  await page.waitForURL(/\/fixtures\//);
  const id = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  const saved = (await (await page.request.get(`/api/v1/fixtures/${id}`)).json()) as { elements: unknown[] };
  expect(saved.elements).toEqual([
    expect.objectContaining({
      kind: 'clamp',
      form: 'lever-clamp',
      name: 'Lever clamp of the test',
      ratedPressure: expect.objectContaining({ value: 250, unit: 'bar' }),
      bore: expect.objectContaining({ value: 25, unit: 'mm' }),
      contactStiffness: expect.objectContaining({ value: 20, unit: 'kN/mm' }),
    }),
  ]);
  expect(complaints).toEqual([]);
  await context.close();
});
