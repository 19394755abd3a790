import { PASSWORD } from '../support/api.js';
import { signIn, startStack, type Stack } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

describe('the engineer', () => {
  it('finds the worst machine, reads why, releases a new target, makes a sizing record, and sees it hold', async () => {
    const { page, context, complaints } = await stack.as(null);
    await signIn(page, 'engineer');
    await page.getByRole('heading', { level: 1, name: /\d+ of \d+ circuits need you/ }).waitFor();
    const row = page.getByRole('row').filter({ hasText: 'Rough pocket' });
    expect(await row.textContent()).toMatch(/needs 150/);
    await row.getByRole('link').first().click();
    await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
    await page
      .getByText(/40 Rough pocket, high feed needs/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Release a new target' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Setting', { exact: true }).fill('182');
    await form.getByLabel('Tolerance of the setting (±)', { exact: true }).fill('3');
    await form.getByLabel('Set point', { exact: true }).fill('169');
    await form.getByLabel('Reset point', { exact: true }).fill('161');
    await form.getByLabel('Pump restart', { exact: true }).fill('175');
    await form.getByLabel('Why').fill('for the high-feed roughing of operation 40');
    await form.getByRole('button', { name: /Release revision/ }).click();
    await form.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Target', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: /^The target of .* is right$/ }).waitFor();
    await page.getByRole('button', { name: 'Make a sizing record of the target' }).click();
    await page.getByText(/Record \d+ is made/).waitFor();
    await page.getByRole('link', { name: 'Open it' }).click();
    await page.getByRole('heading', { level: 1, name: /^Record \d+: .* is set right$/ }).waitFor();
    await page.getByRole('button', { name: 'Replay it now' }).click();
    await page.getByText('the same, byte for byte').waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('reads in a sizing record what went in, each figure with its unit, and by its title once it is stale', async () => {
    const { page, context } = await stack.as('engineer');
    const answer = await page.request.get('/api/v1/machines?limit=200');
    const { items } = (await answer.json()) as { items: { id: string; name: string }[] };
    await page.goto(`/machines/${items.find(({ name }) => name === 'HMC-11')?.id ?? ''}`);
    await page.getByRole('button', { name: 'Make a sizing record of the settings as left' }).click();
    await page.getByRole('link', { name: 'Open it' }).click();
    await page.getByRole('heading', { level: 1, name: /^Record \d+: .* is set right$/ }).waitFor();
    await page.locator('details').evaluateAll((all) => {
      for (const details of all) (details as HTMLDetailsElement).open = true;
    });
    const inputs = page.locator('details').filter({ hasText: /^components/ });
    const text = (await inputs.first().innerText()).replace(/\s+/g, ' ');
    expect(text).toMatch(/Rated flow 20\.00 ?L\/min/);
    expect(text).toMatch(/Rated pressure 315\.0 ?bar/);
    expect(text).toMatch(/Coil power 30\.00 ?W/);
    const oil = (
      await page
        .locator('details')
        .filter({ hasText: /^power unit/ })
        .first()
        .innerText()
    ).replace(/\s+/g, ' ');
    expect(oil).toMatch(/32\.00 ?mm²\/s/);
    expect(oil).toMatch(/870\.0 ?kg\/m³/);
    expect(oil).toMatch(/15\.00 ?°C/);

    const record = page.url();
    await page.getByRole('link', { name: 'All records of this circuit' }).click();
    await page.getByRole('button', { name: 'Change Pallet 1' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Unclamp time allowed', { exact: true }).focus();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('2,8', { delay: 2 });
    await page.keyboard.press('Enter');
    await form.waitFor({ state: 'detached' });
    await page.goto(record);
    await page.getByRole('heading', { level: 1, name: /^Record \d+ is stale: .* was set right then$/ }).waitFor();
    await context.close();
  });

  it('loses nothing typed: not to an error, not to a reload, not to a session that ended', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/fleet');
    await page.getByRole('row').filter({ hasText: 'F-231' }).getByRole('link').first().click();
    await page.getByRole('button', { name: 'Release a new target' }).click();
    const setting = page.getByLabel('Setting', { exact: true });
    await setting.fill('many');
    await page.getByRole('button', { name: /Release revision/ }).click();
    await page
      .getByText(/Setting must be a number/)
      .first()
      .waitFor();
    await setting.fill('2050 psi');
    await page.getByLabel('Why').fill('the new fixture is rated lower');
    await page.reload();
    await page.getByRole('button', { name: 'Release a new target' }).click();
    expect(await setting.inputValue()).toBe('2050');
    expect(await page.getByLabel('Unit of Setting', { exact: true }).inputValue()).toBe('[psi]');
    await page.request.delete('/api/v1/me/session', { headers: { 'sec-fetch-site': 'same-origin' } });
    await page.getByRole('button', { name: /Release revision/ }).click();
    await page.getByRole('button', { name: 'Save all the same' }).click();
    const again = page.getByRole('dialog', { name: 'Sign in again' });
    await again.getByLabel('Password').fill(PASSWORD);
    await again.getByRole('button', { name: 'Sign in', exact: true }).click();
    await page.getByRole('dialog').first().waitFor({ state: 'detached' });
    await page
      .getByText(/revision 2/)
      .first()
      .waitFor();
    await context.close();
  });

  it('switches units in place, and the choice is remembered', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/fleet');
    await page.getByRole('row').filter({ hasText: 'F-231' }).getByRole('link').first().click();
    await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
    const verdict = page.getByText(/F-231 is rated/).first();
    await verdict.waitFor();
    await page.getByRole('button', { name: 'psi' }).click();
    // 160 bar.
    await page.getByText('2321').first().waitFor();
    await page.reload();
    await page.getByText('2321').first().waitFor();
    await page.getByRole('button', { name: 'bar', exact: true }).click();
    await page.getByText('160').first().waitFor();
    await context.close();
  });

  it('reaches the worst machine and its reason by keyboard alone', async () => {
    const { page, context } = await stack.as(null);
    await page.goto('/');
    await page.waitForURL(/sign-in/);
    await page.getByLabel('E-mail').waitFor();
    const tabTo = async (isThere: () => Promise<boolean>): Promise<void> => {
      for (let step = 0; step < 80; step += 1) {
        if (await isThere()) return;
        await page.keyboard.press('Tab');
      }
      throw new Error('the keyboard does not get there');
    };
    const focused =
      (name: RegExp): (() => Promise<boolean>) =>
      async () =>
        name.test(
          await page.evaluate(() => {
            const element = document.activeElement;
            const label = element instanceof HTMLInputElement ? (element.labels?.[0]?.textContent ?? '') : '';
            const role = element?.tagName === 'A' ? 'link' : (element?.getAttribute('role') ?? '');
            return `${label} ${element?.getAttribute('aria-label') ?? ''} ${element?.textContent ?? ''} (${role})`;
          }),
        );
    await tabTo(focused(/^E-mail/));
    await page.keyboard.type('lead@demo.example');
    await tabTo(focused(/^Password/));
    await page.keyboard.type(PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /circuits need you/ }).waitFor();
    await tabTo(focused(/[VH]MC-\d+.*\(link\)$/));
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /is not set right/ }).waitFor();
    // A rung of the pressure ladder opens with the keyboard, too.
    await tabTo(() => page.evaluate(() => document.activeElement?.getAttribute('data-code') === 'setting'));
    await page.keyboard.press('Enter');
    await page.getByText('setting ± drift and hysteresis').waitFor();
    await context.close();
  });
});

describe('the viewer', () => {
  it('sees only their own machines and setup record, in plain words, and reports a problem', async () => {
    const { page, context, complaints } = await stack.as(null);
    await signIn(page, 'viewer');
    await page.waitForURL(/portal/);
    const text = (await page.getByRole('main').textContent()) ?? '';
    expect(text).not.toMatch(/Ledrado|Tesnal|Amerosa/);
    await page
      .getByRole('main')
      .getByRole('link', { name: /[VH]MC-\d+/ })
      .first()
      .click();
    await page
      .getByText(/as left/i)
      .first()
      .waitFor();
    // On the screen the signs are explained; on paper it says of which day it is, whom to ask, and has room for two signatures.
    const sign = page.getByText('workpiece allows', { exact: true });
    await sign.waitFor();
    const dated = page.getByText(/^Printed on .* Questions about it: /);
    expect(await dated.isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    expect(await dated.textContent()).toContain(String(new Date().getFullYear()));
    expect(await dated.isVisible()).toBe(true);
    for (const who of ['Handed over', 'Received']) expect(await page.getByText(`${who}: name`).isVisible()).toBe(true);
    expect(await page.getByRole('button', { name: 'Print' }).isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    await page
      .getByRole('link', { name: /report a problem/i })
      .or(page.getByRole('button', { name: /report a problem/i }))
      .first()
      .click();
    await page
      .getByRole('textbox', { name: /what|problem|title/i })
      .first()
      .fill('Pallet 1 opens slowly when cold');
    await page
      .getByRole('main')
      .getByRole('button', { name: /report|send|open/i })
      .last()
      .click();
    await page.getByText('Pallet 1 opens slowly when cold').first().waitFor();
    expect(complaints.filter((one) => !one.includes('404'))).toEqual([]);
    const foreign = await page.request.get('/api/v1/component-types');
    expect(foreign.status()).toBe(403);
    await context.close();
  });
});
