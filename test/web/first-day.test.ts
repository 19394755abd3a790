import { Secret, TOTP } from 'otpauth';
import type { Page } from 'playwright-core';
import { PASSWORD } from '../support/api.js';
import { signIn, startStack, type Stack } from '../support/stack.js';
import { typeKeys } from './support/keys.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

async function findFirst(page: Page, list: string): Promise<string> {
  const answer = await page.request.get(`/api/v1/${list}?limit=1`);
  return ((await answer.json()) as { items: { id: string }[] }).items[0]?.id ?? '';
}

/** Types over what stands in the field that a label names. */
async function retype(page: Page, label: string, text: string): Promise<void> {
  await page.getByRole('dialog').getByLabel(label, { exact: true }).first().click();
  await page.keyboard.press('ControlOrMeta+a');
  await typeKeys(page, text);
}

async function readSecret(page: Page): Promise<string> {
  const shown = page.getByText(/Or type this secret/).locator('code');
  return ((await shown.textContent()) ?? '').replace(/\s/g, '');
}

describe('an engineer at the keyboard', () => {
  it('signs in without the mouse', async () => {
    const { page, context } = await stack.as(null);
    await page.goto('/sign-in');
    await page.locator('input[type=email]:focus').waitFor();
    await typeKeys(page, 'engineer@demo.example');
    await page.keyboard.press('Tab');
    await typeKeys(page, PASSWORD);
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/fleet/);
    await context.close();
  });

  it('types at once into a dialog, and a customer without circuits is said to have none', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/customers');
    await page.getByRole('button', { name: 'Add a customer' }).click();
    await page.getByRole('dialog').getByLabel('Customer', { exact: true }).waitFor();
    await typeKeys(page, 'Varn Castings');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Varn Castings: no circuit is recorded yet' }).waitFor();
    await page.getByText('no circuit yet').waitFor();
    expect(await page.getByText('all hold').count()).toBe(0);
    await context.close();
  });

  it('is told of a character that came with copied text and that nobody sees', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/customers');
    await page.getByRole('button', { name: 'Add a customer' }).click();
    await retype(page, 'Customer', 'Varn\u200b Forge');
    await page.keyboard.press('Enter');
    const form = page.getByRole('dialog');
    await form.getByText('Customer holds a character that cannot be seen').first().waitFor();
    await retype(page, 'Customer', 'Varn Forge');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Varn Forge: no circuit is recorded yet' }).waitFor();
    await context.close();
  });

  it('finds in a form what was saved a moment ago, and is told which of two figures is wrong', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    const change = page.getByRole('button', { name: /^Change Power unit/ }).first();
    const form = page.getByRole('dialog');
    await change.click();
    await retype(page, 'Lowest plant air', '9,5');
    await form.getByRole('button', { name: 'Save' }).click();
    await form.getByText('Lowest plant air is more than the highest air at the regulator').first().waitFor();
    await retype(page, 'Lowest plant air', '60 psi');
    await page.keyboard.press('Tab');
    expect(await form.getByLabel('Lowest plant air', { exact: true }).inputValue()).toBe('60');
    expect(await form.getByLabel('Unit of Lowest plant air').inputValue()).toBe('[psi]');
    await form.getByRole('button', { name: 'Save' }).click();
    await form.waitFor({ state: 'hidden' });
    await change.click();
    const field = form.getByLabel('Lowest plant air', { exact: true });
    await field.waitFor();
    // All pressures of the page are in one unit again, though this one was typed in psi.
    expect(await field.inputValue()).toBe('4.137');
    expect(await form.getByLabel('Unit of Lowest plant air').inputValue()).toBe('bar');
    await context.close();
  });

  it('cannot enter a rod that does not go into its bore', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto(`/fixtures/${await findFirst(page, 'fixtures')}`);
    await page.getByRole('button', { name: 'Change', exact: true }).first().click();
    await retype(page, 'Bore', '40');
    await retype(page, 'Rod', '63');
    await retype(page, 'Least working pressure', '900');
    const form = page.getByRole('dialog');
    await form.getByRole('button', { name: 'Save' }).click();
    await form
      .getByText(/the rod is thicker than the bore/)
      .first()
      .waitFor();
    await form
      .getByText(/the least working pressure is above the rated pressure/)
      .first()
      .waitFor();
    expect(await form.getByLabel('Rod', { exact: true }).first().getAttribute('aria-invalid')).toBe('true');
    await context.close();
  });

  it('cannot enter a clamp whose rod does not go into its bore', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/component-types');
    await page.getByRole('button', { name: 'Add a component type' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Kind').selectOption('swing-clamp');
    await retype(page, 'Name', 'Clamp of the first day');
    await retype(page, 'Source of all figures', 'data sheet');
    await retype(page, 'Bore', '1 in');
    await retype(page, 'Rod diameter', '30');
    await page.keyboard.press('Enter');
    const summary = form.getByRole('alert');
    await summary.getByRole('link', { name: 'Rod diameter: the rod is thicker than the bore' }).click();
    expect(await form.getByLabel('Rod diameter', { exact: true }).getAttribute('aria-invalid')).toBe('true');
    await page.keyboard.press('ControlOrMeta+a');
    await typeKeys(page, '16');
    expect(await summary.count()).toBe(0);
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/component-types\/./);
    await context.close();
  });

  it('may type a ratio in per cent, and is told which figure cannot be below zero', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto('/component-types');
    await page.getByRole('button', { name: 'Add a component type' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Kind').selectOption('pump');
    await retype(page, 'Name', 'Pump of the first day');
    await retype(page, 'Rated pressure', '-350');
    await retype(page, 'Rated pressure: source', 'data sheet');
    await retype(page, 'Stall efficiency', '97 %');
    await retype(page, 'Stall efficiency: source', 'data sheet');
    await form.getByRole('button', { name: 'Add a component type' }).click();
    await form.getByText('Rated pressure cannot be below zero').first().waitFor();
    await retype(page, 'Rated pressure', '350');
    await form.getByRole('button', { name: 'Add a component type' }).click();
    await page.getByRole('heading', { level: 1, name: 'Pump of the first day' }).waitFor();
    await page.getByRole('row').filter({ hasText: 'Stall efficiency' }).first().getByText('0.97').waitFor();
    await context.close();
  });
});

describe('an installer who writes down what was left', () => {
  it('is told in one sentence, at its field, what contradicts what', async () => {
    const { page, context } = await stack.as('installer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    await page.getByRole('button', { name: 'Enter as-left values' }).click();
    const form = page.getByRole('dialog');
    await retype(page, 'Setting', '150');
    await retype(page, 'Set point', '132');
    await retype(page, 'Reset point', '140');
    await retype(page, 'Span of the gauge', '250');
    await retype(page, 'Pressure drop, shut in', '2');
    await retype(page, 'Oil temperature', '-300');
    await form.getByRole('button', { name: /^Record revision/ }).click();
    for (const text of [
      'Reset point must be below the set point',
      'Give the span and the class of the gauge, or neither',
      'Give the pressure drop and its time, or neither',
      'Oil temperature is smaller than can be',
    ]) {
      await form.getByText(text).first().waitFor();
    }
    await context.close();
  });
});

describe('a figure that looks wrong', () => {
  it('is asked about before it is saved, and saved all the same when told so', async () => {
    const { page, context } = await stack.as('installer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    await page.getByRole('button', { name: 'Enter as-left values' }).click();
    const form = page.getByRole('dialog');
    await retype(page, 'Setting', '2030');
    await retype(page, 'Report that the values come from', 'Report of the first day');
    await retype(page, 'Why', 'read at the gauge');
    await form.getByRole('button', { name: /^Record revision/ }).click();
    const question = form.getByRole('alert').filter({ hasText: 'Look once more before this is saved' });
    await question.getByText(/^Setting 2030/).waitFor();
    await retype(page, 'Setting', '2031');
    expect(await question.count()).toBe(0);
    await form.getByRole('button', { name: /^Record revision/ }).click();
    await question.getByText(/^Setting 2031/).waitFor();
    await question.getByRole('button', { name: 'Save all the same' }).click();
    await form.waitFor({ state: 'detached' });
    await page.locator('#settings').getByText('2031').first().waitFor();
    await context.close();
  });

  it('is asked about where a pump driven by air contradicts that no oil is shut in, and once it is said, no more', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    const plant = page.locator('#plant');
    const change = plant.getByRole('table', { name: 'Circuits' }).getByRole('button', { name: /^Change/ });
    await change.first().click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Can oil be trapped in it?').selectOption('no');
    await form.getByRole('button', { name: 'Save' }).click();
    const question = form.getByRole('alert').filter({ hasText: 'Look once more before this is saved' });
    await question.getByText(/is driven by air: the check valve at the outlet of such a pump shuts oil in/).waitFor();
    await question.getByRole('button', { name: 'Save all the same' }).click();
    await form.waitFor({ state: 'detached' });
    await change.first().click();
    await retype(page, 'Note', 'A bypass lets it out');
    await form.getByRole('button', { name: 'Save' }).click();
    await form.waitFor({ state: 'detached' });
    await context.close();
  });

  it('is asked about as well where its unit is typed after it and Enter follows', async () => {
    const { page, context } = await stack.as('installer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    await page.getByRole('button', { name: 'Enter as-left values' }).click();
    const form = page.getByRole('dialog');
    await retype(page, 'Report that the values come from', 'Report of the second day');
    await retype(page, 'Why', 'read at the gauge');
    await retype(page, 'Setting', '203 psi');
    await page.keyboard.press('Enter');
    const question = form.getByRole('alert').filter({ hasText: 'Look once more before this is saved' });
    await question.getByText(/^Setting 203 psi/).waitFor();
    expect(await form.getByLabel('Unit of Setting', { exact: true }).inputValue()).toBe('[psi]');
    await retype(page, 'Setting', '204');
    expect(await question.count()).toBe(0);
    await form.getByRole('button', { name: 'Throw away what is typed' }).click();
    await context.close();
  });

  it.each([
    {
      open: 'Change Pallet 1',
      caution: /enters the proof of this circuit/,
      label: 'Clamp time allowed',
      typed: ['2500', '2.4'],
      asked: /^Clamp time allowed 2500 s is far from what was saved before: 2\.5 s\. 2500 ms would be near it/,
    },
    {
      open: 'Change Power unit 1',
      caution: /enters the proofs of every circuit that it feeds/,
      label: 'Highest air at the regulator',
      typed: ['94 bar', '6.4'],
      asked:
        /^Highest air at the regulator 94 bar is far from what was saved before: 6\.5 bar\. 94 psi would be near it/,
    },
  ])(
    'is asked about of what is fixed as well: $open',
    async ({ open, caution, label, typed: [wrong, right], asked }) => {
      const { page, context } = await stack.as('engineer');
      const answer = await page.request.get('/api/v1/machines?limit=200');
      const { items } = (await answer.json()) as { items: { id: string; name: string }[] };
      await page.goto(`/machines/${items.find(({ name }) => name === 'HMC-17')?.id ?? ''}`);
      await page.getByRole('button', { name: open }).click();
      const form = page.getByRole('dialog');
      await form.getByText(caution).waitFor();
      await retype(page, label, '20 kg');
      await page.keyboard.press('Enter');
      await form
        .getByRole('link', { name: `${label}: the unit does not fit, take one of those beside the field` })
        .waitFor();
      await retype(page, label, 'some');
      await page.keyboard.press('Enter');
      await form.getByRole('link', { name: `${label} must be a number, a unit after it if need be` }).waitFor();
      await retype(page, label, wrong ?? '');
      await page.keyboard.press('Enter');
      const question = form.getByRole('alert').filter({ hasText: 'Look once more before this is saved' });
      await question.getByText(asked).waitFor();
      await retype(page, label, right ?? '');
      await page.keyboard.press('Enter');
      await form.waitFor({ state: 'detached' });
      await context.close();
    },
  );

  it('can be corrected, starting from what was read', async () => {
    const { page, context } = await stack.as('installer');
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    await page.getByRole('button', { name: 'Correct the last reading' }).click();
    const form = page.getByRole('dialog');
    expect(await form.getByLabel('Setting', { exact: true }).inputValue()).toBe('2031');
    await retype(page, 'Setting', '150');
    await retype(page, 'Why', 'a typing error: the gauge said 150');
    await form.getByRole('button', { name: /^Record revision/ }).click();
    const again = form.getByRole('button', { name: 'Save all the same' });
    await Promise.race([again.waitFor().then(() => again.click()), form.waitFor({ state: 'detached' })]);
    await form.waitFor({ state: 'detached' });
    await page.locator('#settings').getByText('2031').waitFor({ state: 'detached' });
    await context.close();
  });
});

describe('an administrator', () => {
  it('is told that an issuer is an address', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/organisation');
    await page.getByRole('button', { name: "Set up the organisation's sign-in" }).click();
    await retype(page, 'Client secret', 'a secret of the provider');
    await retype(page, 'Name on the button', 'Works sign-in');
    await retype(page, 'Issuer', 'works');
    await retype(page, 'Client id', 'kedge');
    await page.keyboard.press('Enter');
    await page.getByText('Issuer must be an address, such as').first().waitFor();
    await context.close();
  });

  it('reads "Saved" until the name is typed on', async () => {
    const { page, context } = await stack.as('admin');
    await page.goto('/account');
    await page.getByLabel('Name as others see it').click();
    await page.keyboard.press('End');
    await typeKeys(page, ' B');
    await page.keyboard.press('Enter');
    await page.getByText('Saved', { exact: true }).waitFor();
    await typeKeys(page, '.');
    expect(await page.getByText('Saved', { exact: true }).count()).toBe(0);
    await context.close();
  });
});

describe('an installer with gloves on', () => {
  it('finds all large enough, and everything under its heading, on a small screen', async () => {
    const context = await stack.browser.newContext({
      baseURL: stack.base,
      viewport: { width: 360, height: 740 },
      hasTouch: true,
      isMobile: true,
    });
    const page = await context.newPage();
    await signIn(page, 'installer');
    const paths = [
      '/account',
      '/fleet',
      `/machines/${await findFirst(page, 'machines')}`,
      `/customers/${await findFirst(page, 'customers')}`,
      `/sites/${await findFirst(page, 'sites')}`,
    ];
    for (const path of paths) {
      await page.goto(path);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.locator('main :is(button, td a, th a)').first().waitFor();
      const small = await page
        .locator(':is(button, select, input:not([type=checkbox]), summary, td a, th a, dt a, dd a, nav li a)')
        .evaluateAll((all) =>
          all.flatMap((element) => {
            const { width, height } = element.getBoundingClientRect();
            return width === 0 || height >= 44
              ? []
              : [`${element.textContent || element.id}: ${Math.round(height)} px`];
          }),
        );
      expect({ path, small }).toEqual({ path, small: [] });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    }
    // The figures of a type stand above the machines that it is fitted to, however many.
    await page.goto(`/component-types/${await findFirst(page, 'component-types')}`);
    const topOf = async (name: string): Promise<number> =>
      (await page.getByRole('heading', { name, exact: true }).boundingBox())?.y ?? NaN;
    await page.getByRole('heading', { name: 'Which machines does this affect?' }).waitFor();
    expect(await topOf('Figures')).toBeLessThan(await topOf('Which machines does this affect?'));
    await page.goto(`/machines/${await findFirst(page, 'machines')}`);
    // What is ticked, and what is chosen from a list, in a form over the page.
    await page.getByRole('button', { name: 'Components as installed' }).tap();
    await page.getByRole('button', { name: 'Fit a component', exact: true }).tap();
    const form = page.getByRole('dialog');
    await form.getByRole('combobox', { name: 'Component type', exact: true }).tap();
    await page.getByRole('option').first().waitFor();
    const low = await form
      .locator('label:has(input[type=checkbox]), [role=option], summary, button, select')
      .evaluateAll((all) =>
        all.flatMap((element) => {
          const { width, height } = element.getBoundingClientRect();
          // Without a word it is there for readers of the screen alone: a list is left by it.
          const isSeen = width > 0 && element.textContent !== '';
          return !isSeen || height >= 44 ? [] : [`${element.textContent}: ${Math.round(height)} px`];
        }),
      );
    expect(low).toEqual([]);
    await page.keyboard.press('Escape');
    await form.getByRole('button', { name: 'Close' }).click();
    // Cells that stand under each other begin where the cells above them begin, and a heading has something under it.
    await page.goto('/component-types');
    await page.locator('td[data-label]').first().waitFor();
    const aligned = await page
      .locator('td[data-label]')
      .evaluateAll((cells) => cells.map((cell) => getComputedStyle(cell).textAlign));
    expect(new Set(aligned)).toEqual(new Set(['left']));
    await page.goto('/account');
    await page.getByText('This browser').waitFor();
    expect(await page.locator('td[data-label] > span:empty').count()).toBe(0);
    await page.goto('/calculations');
    await page.getByText('the inverse of “Force of a cylinder”').waitFor();
    await context.close();
  });
});

// Last: from here on the organisation demands a second factor of everybody.
describe('where a second factor is demanded', () => {
  it('shows the recovery codes until somebody says that they are kept', async () => {
    await stack.query(`INSERT INTO sign_in_policies (organisation_id, demands_second_factor)
      SELECT id, true FROM organisations ON CONFLICT (organisation_id) DO UPDATE SET demands_second_factor = true`);
    const { page, context } = await stack.as('installer');
    await page.goto('/');
    await page.getByRole('button', { name: 'Set one-time codes up' }).click();
    const secret = await readSecret(page);
    await page.getByLabel('The code that the app shows now').waitFor();
    await typeKeys(page, new TOTP({ secret: Secret.fromBase32(secret) }).generate());
    await page.keyboard.press('Enter');
    await page.getByText(/Keep these recovery codes/).waitFor();
    // What the page reads after the change has come by then: it must not take the codes away.
    await page.waitForLoadState('networkidle');
    await page.getByRole('button', { name: 'I have kept them' }).click();
    await page.getByRole('heading', { level: 1, name: /circuits? needs? you/ }).waitFor();
    await context.close();
  });
});
