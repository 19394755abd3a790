import { startStack, violationsOf, type Stack } from '../support/stack.js';
import { INSTALLED_BASE } from './support/import-file.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

describe('the engineer', () => {
  it('brings in a file: answers what reads two ways, sees what would happen, writes it, undoes it', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    await page.goto(`${stack.base}/imports`);
    await page.locator('input[type=file]').setInputFiles(INSTALLED_BASE);
    await page.getByRole('heading', { level: 1, name: 'installed base.csv' }).waitFor();
    await page.getByText('1 question is open: something reads two ways.').waitFor();
    const show = page.getByRole('button', { name: 'Show what would happen' });
    expect(await show.isDisabled()).toBe(true);
    await page.getByLabel('Which comes first in H, day or month?').selectOption('day, then month');
    await page.getByLabel('What', { exact: true }).selectOption('Time zone');
    await page.getByLabel('Value').fill('Europe/Lisbon');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByText('Time zone: Europe/Lisbon').waitFor();
    // What was said survives leaving the page.
    await page.waitForLoadState('networkidle');
    await page.reload();
    await page.getByText('Time zone: Europe/Lisbon').waitFor();
    await show.click();
    await page.getByRole('heading', { name: 'What would happen' }).waitFor();
    await page.getByText('“hose” is none of: rotary-union, through-table-supply, direct').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Write it without the refused rows' }).click();
    await page.getByText(/^Written on/).waitFor();
    await page.goto(`${stack.base}/customers`);
    await page.getByRole('link', { name: 'Vale Test' }).waitFor();
    await page.goBack();
    await page.getByRole('button', { name: 'Undo this import' }).click();
    await page.getByRole('button', { name: 'Undo it' }).click();
    await page.getByText(/This import was undone/).waitFor();
    await page.goto(`${stack.base}/jobs`);
    await page.getByRole('row').filter({ hasText: 'Undo an import' }).waitFor();
    expect(await violationsOf(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('is told why a file cannot be read, and may send another', async () => {
    const { page, context } = await stack.as('engineer');
    await page.goto(`${stack.base}/imports`);
    const broken = { name: 'broken.csv', mimeType: 'text/csv', buffer: Buffer.from('Customer;Site\n"Vale;Hall') };
    await page.locator('input[type=file]').setInputFiles(broken);
    await page.getByText(/A quote that begins a cell is never closed/).waitFor();
    await page.locator('input[type=file]').setInputFiles(INSTALLED_BASE);
    await page.getByRole('button', { name: 'Show what would happen' }).waitFor();
    await context.close();
  });

  it('puts the row of the headings right, and sends mended rows again under the same columns', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const text = (zone: string): string =>
      ['Customer;Site;Place;Time zone', 'Firm;Works;Town;Clock', `Serra Test;Hall 9;Viseu;${zone}`].join('\r\n');
    const file = (name: string, zone: string) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text(zone)) });
    await page.goto(`${stack.base}/imports`);
    await page.locator('input[type=file]').setInputFiles(file('grouped.csv', 'Nowhere/Else'));
    await page.getByLabel('Headings are in row').fill('2');
    await page.getByRole('button', { name: 'Take row 2' }).click();
    for (const [column, field] of [
      ['A, Firm', 'Customer'],
      ['B, Works', 'Site'],
      ['C, Town', 'Place'],
      ['D, Clock', 'Time zone'],
    ] as const) {
      await page.getByLabel(`Column ${column}, is`).selectOption(field);
    }
    await page.getByRole('button', { name: 'Show what would happen' }).click();
    await page.getByText('Send the mended file').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.getByLabel('Send the mended file').setInputFiles(file('grouped, mended.csv', 'Europe/Lisbon'));
    await page.getByRole('heading', { level: 1, name: 'grouped, mended.csv' }).waitFor();
    await page.getByText(/understood as they were for the last file/).waitFor();
    expect(await page.getByLabel('Headings are in row').inputValue()).toBe('2');
    await page.getByRole('button', { name: 'Show what would happen' }).click();
    await page.getByRole('button', { name: 'Write it', exact: true }).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('says once what a separator is, fills empty cells from above, keeps a row that begins like a sum, chooses a fixed value from words', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const lines = [
      'Customer;Site;Place;Time zone;Machine;Way in;Stations;Power unit;Drive;Plant air, highest',
      'Fonte Test;Hall 1;Porto;Europe/Lisbon;MC 1;direct;A, B;HPU 1;air;1.500 psi',
      ';;;;MC 2;direct;A, B;HPU 2;air;',
      'Total Works Test;Hall 1;Porto;Europe/Lisbon;MC 3;direct;A, B;HPU 3;air;',
    ];
    await page.goto(`${stack.base}/imports`);
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'asked.csv', mimeType: 'text/csv', buffer: Buffer.from(lines.join('\r\n')) });
    const show = page.getByRole('button', { name: 'Show what would happen' });
    await show.waitFor();
    expect(await show.isDisabled()).toBe(true);
    const sign = page.getByLabel('How is “1.500 psi” meant, in the whole file?');
    await sign.selectOption('a comma is the decimal sign: 1.500 psi is 1500 psi');
    for (const letter of ['A', 'B']) await page.getByLabel(`Fill empty cells of ${letter} from above`).check();
    await page.getByLabel('Import rows that seem to be sums too').check();
    await page.getByLabel('What', { exact: true }).selectOption('Form');
    await page.getByLabel('Value').selectOption('pallets');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByText('Form: pallets or several stations').waitFor();
    await page.waitForLoadState('networkidle');
    expect(await violationsOf(page)).toEqual([]);
    await show.click();
    await page.getByRole('heading', { name: 'What would happen' }).waitFor();
    await page.getByText('Plant air, highest: 1500 psi = 103.4 bar').waitFor();
    await page.getByText('Filled from above: A3, B3').waitFor();
    await page.getByText('Way in: oil through fixed lines').first().waitFor();
    await page.getByText('Customer: Total Works Test').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it('reads what would be new without a nothing before it, and an instant as a day with its time', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const lines = [
      'Customer;Fixture;Operation;Operation: name;Operation: valid from',
      'Montesar Aerospace Brackets;F-151;77;Deburr;2026-03-01T10:30:00Z',
    ];
    await page.goto(`${stack.base}/imports`);
    const fold = page.getByText('What its columns may hold');
    expect((await fold.boundingBox())?.height).toBeGreaterThanOrEqual(40);
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'one.csv', mimeType: 'text/csv', buffer: Buffer.from(lines.join('\r\n')) });
    await page.getByRole('button', { name: 'Show what would happen' }).click();
    await page.getByText('Operation: name: Deburr', { exact: true }).waitFor();
    await page.getByText(/^Operation: valid from: .*\b1 Mar(ch)? 2026\b/).waitFor();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each([
    ['light', [360, 1440]],
    ['dark', [820]],
  ] as const)('reads the pages, %s, at %j pixels', async (theme, widths) => {
    const { page, context } = await stack.as('engineer', { theme, width: widths[0], height: 1180 });
    const { items } = (await (await page.request.get('/api/v1/imports')).json()) as { items: { id: string }[] };
    const ids = items.map(({ id }) => `/imports/${id}`);
    expect(ids.length).toBeGreaterThan(1);
    for (const path of ['/imports', '/jobs', ...ids]) {
      await page.goto(`${stack.base}${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.waitForLoadState('networkidle');
      for (const width of widths) {
        await page.setViewportSize({ width, height: 1180 });
        const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        expect([path, theme, width, over <= 0]).toEqual([path, theme, width, true]);
        expect(await violationsOf(page)).toEqual([]);
        if (process.env.LOOK !== undefined) {
          await page.screenshot({
            path: `${process.env.LOOK}/${path.slice(1).replaceAll('/', '-').slice(0, 16)}-${path.slice(-4)}-${width}-${theme}.png`,
            fullPage: true,
          });
        }
      }
    }
    await context.close();
  });
});

describe('a viewer of a customer who types an address of the staff', () => {
  it.each(['imports', 'audit', 'sources', 'people', 'component-types', 'organisation', 'jobs', 'api-keys'])(
    '/%s: is told that the page is not for them, and sees no heading, button or filter of it',
    async (place) => {
      const { page, context } = await stack.as('viewer');
      await page.goto(`${stack.base}/${place}`);
      await page.getByRole('alert').getByText('Your role may not see this').waitFor();
      expect(await page.getByRole('heading').allInnerTexts()).toEqual(['Your role may not see this']);
      const main = page.getByRole('main');
      expect(await main.getByRole('button').count()).toBe(0);
      expect(await main.getByRole('textbox').or(main.getByRole('combobox')).count()).toBe(0);
      expect(await main.getByRole('link').allInnerTexts()).toEqual(['Go to the start']);
      await context.close();
    },
  );
});
