import type { Page } from 'playwright-core';
import { startStack, violationsOf, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

/** The machine of the demonstration that has a circuit which fails. */
async function openWorst(page: Page): Promise<string> {
  await page.goto('/fleet');
  await page.getByRole('row').filter({ hasText: 'Rough pocket' }).getByRole('link').first().click();
  await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
  return new URL(page.url()).pathname.split('/').at(-1) ?? '';
}

describe('who did what', () => {
  it('says of an edited record what it held before and holds now, and of which machine it is', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const machineId = await openWorst(page);
    const { items } = (await (await page.request.get(`/api/v1/circuits?machineId=${machineId}&limit=1`)).json()) as {
      items: { id: string; name: string; version: number }[];
    };
    const [circuit] = items;
    const answer = await page.request.patch(`/api/v1/circuits/${circuit?.id}`, {
      data: { returnPressure: { value: 3, unit: 'bar' } },
      headers: { 'if-match': `"v${circuit?.version}"`, 'sec-fetch-site': 'same-origin' },
    });
    expect([answer.status(), await answer.text()]).toEqual([200, expect.any(String)]);
    await page.goto('/audit');
    const row = page.getByRole('row').filter({ hasText: 'changed circuit' }).first();
    await row.getByText(/^Highest pressure in the tank line: .+ → 3\s?bar$/).waitFor();
    await row.getByText(circuit?.name ?? '').waitFor();
    await page.getByRole('button', { name: 'psi' }).click();
    await row.getByText(/→ 43\.5\s?psi/).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    // The unit goes with the account: others read in bar.
    await page.getByRole('button', { name: 'bar' }).click();
    await row.getByText(/→ 3\s?bar/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('one record of the trail', () => {
  it('is gone to and left by Back, which leads to all of them again; every kind can be chosen and has a word', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    expect((await page.request.get('/api/v1/exports/customers?format=csv')).status()).toBe(200);
    await page.goto('/audit');
    const made = page.getByRole('row').filter({ hasText: 'made an export' }).first();
    await made.waitFor();
    const words = await page.getByLabel('Kind of record').getByRole('option').allInnerTexts();
    expect(words).toEqual(expect.arrayContaining(['alarm rule', 'source', 'import', 'key of a program']));
    expect(words.filter((word) => word.includes('-'))).toEqual([
      'as-left settings',
      'M-code',
      "organisation's sign-in",
    ]);
    await made.getByRole('link', { name: 'Only this record' }).click();
    await page.getByText('Only one record is shown.').waitFor();
    expect(await page.getByLabel('Kind of record').inputValue()).toBe('export');
    await page.goBack();
    await page.getByText('Only one record is shown.').waitFor({ state: 'detached' });
    await made.waitFor();
    expect(new URL(page.url()).pathname + new URL(page.url()).search).toBe('/audit');
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('what was done to a machine', () => {
  it('has what was fitted beside what people wrote', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    await openWorst(page);
    const events = page.locator('#events');
    await events
      .getByText(/component fitted.*: \d+ components/)
      .first()
      .waitFor();
    await events.getByText('Which').first().click();
    expect(await events.getByRole('listitem').count()).toBeGreaterThan(4);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('the setup record', () => {
  it('names instruments and components with their ratings, to the customer’s people too, at any width', async () => {
    const { page, context, complaints } = await stack.as('viewer');
    await page.goto('/portal');
    await page.getByRole('main').getByRole('link', { name: /./ }).first().click();
    const components = page.getByRole('table', { name: 'Components, and what they are rated for' });
    await components.waitFor();
    expect(
      await components
        .getByRole('row')
        .filter({ hasText: /\d+\s?bar/ })
        .count(),
    ).toBeGreaterThan(2);
    const instruments = page.getByRole('table', { name: 'Instruments' });
    await instruments.getByText(/^0 to/).first().waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.setViewportSize({ width: 360, height: 740 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('a pressure ladder typed by hand', () => {
  it('is found among the calculations, and grows as one types', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    await page.goto('/calculations?search=typed+by+hand');
    await page.getByRole('link', { name: 'Pressure ladder of a circuit, typed by hand' }).click();
    await page.getByRole('heading', { level: 1, name: 'Pressure ladder of a circuit, typed by hand' }).waitFor();
    for (const [name, value] of [
      ['Required pressure', '118'],
      ['Reset point', '142'],
      ['Set point', '150'],
      ['Setting', '175'],
      ['Highest pressure', '190 bar'],
    ] as const) {
      await page.getByRole('textbox', { name, exact: true }).pressSequentially(value);
    }
    await page.getByRole('button', { name: 'Add to Components' }).click();
    await page.getByRole('textbox', { name: 'Rating', exact: true }).pressSequentially('170');
    await page.getByRole('group', { name: 'Pressure ladder' }).waitFor();
    // A component that is made for less than the setting.
    await page.getByText('175 / 170').first().waitFor();
    expect(new URL(page.url()).searchParams.get('inputs')).toContain('"setting"');
    await page.reload();
    // The page takes the inputs from its address once its script is there.
    const setting = page.getByRole('textbox', { name: 'Setting', exact: true });
    await page.waitForFunction((field) => (field as HTMLInputElement).value !== '', await setting.elementHandle());
    expect(await setting.inputValue()).toBe('175');
    expect(await violationsOf(page)).toEqual([]);
    await page.setViewportSize({ width: 360, height: 740 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    expect(complaints).toEqual([]);
    await context.close();
  });
});
