import { buffer } from 'node:stream/consumers';
import ExcelJS from 'exceljs';
import type { Download } from 'playwright-core';
import { startStack, violationsOf, type Stack, type Visit } from '../support/stack.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

/** What was saved: the browser is another process, which may have folders of its own. */
const read = async (download: Download): Promise<Buffer> => buffer(await download.createReadStream());

/** Opens the dialog of a page, and gives back the file that its button saves. */
async function take({ page }: Visit, path: string, table: string, format: string): Promise<Buffer> {
  await page.goto(path);
  await page.getByRole('button', { name: 'Export', exact: true }).click();
  const dialog = page.getByRole('dialog', { name: 'Export a table' });
  await dialog.getByLabel('Table').selectOption({ label: table });
  await dialog.getByLabel('As', { exact: true }).selectOption(format);
  await dialog.getByLabel('Pressures in').selectOption('[psi]');
  const saving = page.waitForEvent('download');
  await dialog.getByRole('button', { name: 'Download' }).click();
  const download = await saving;
  await dialog.getByText(`Saved as ${download.suggestedFilename()}.`).waitFor();
  expect(download.suggestedFilename()).toMatch(new RegExp(`^kedge-[a-z-]+-\\d{4}-\\d{2}-\\d{2}\\.${format}$`));
  return read(download);
}

describe('the export button', () => {
  it('saves a workbook with the rows that one sees, in the unit chosen', async () => {
    const visit = await stack.as('engineer');
    const bytes = await take(visit, '/customers', 'Setup records', 'xlsx');
    const workbook = new ExcelJS.Workbook();
    await workbook.xlsx.load(new Uint8Array(bytes).buffer);
    const [sheet] = workbook.worksheets;
    const header = (sheet?.getRow(1).values as string[]).slice(1);
    expect(header).toContain('Setting [psi]');
    expect(sheet?.rowCount).toBeGreaterThan(5);
    const setting = sheet?.getRow(2).getCell(header.indexOf('Setting [psi]') + 1).value;
    // A hydraulic clamping circuit of the demonstration is set between 70 and 300 bar.
    expect(typeof setting).toBe('number');
    expect(Number(setting)).toBeGreaterThan(1000);
    expect(Number(setting)).toBeLessThan(4500);
    expect(await violationsOf(visit.page)).toEqual([]);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it("gives a customer's viewer a text with their rows alone", async () => {
    const visit = await stack.as('viewer');
    const text = (await take(visit, '/portal', 'Machines', 'csv')).toString('utf8');
    const { items } = (await (await visit.page.request.get('/api/v1/machines')).json()) as {
      items: { name: string }[];
    };
    const lines = text.trim().split('\r\n');
    expect(lines).toHaveLength(items.length + 1);
    for (const { name } of items) expect(text).toContain(name);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it('makes a large one in the background, and gives its file when it is there', async () => {
    const visit = await stack.as('engineer');
    const { page } = visit;
    // The demonstration has no table that large: the first answer is the one that a large table gets, all else is real.
    await page.route('**/api/v1/exports/customers?*', (route) =>
      route.fulfill({
        status: 409,
        contentType: 'application/problem+json',
        body: JSON.stringify({ code: 'export.too-large', title: 'Too many rows to answer at once', status: 409 }),
      }),
    );
    await page.goto('/customers');
    await page.getByRole('button', { name: 'Export', exact: true }).click();
    const dialog = page.getByRole('dialog', { name: 'Export a table' });
    await dialog.getByLabel('As', { exact: true }).selectOption('csv');
    await dialog.getByRole('button', { name: 'Download' }).click();
    await dialog.getByText(/The file is ready: \d+ rows/).waitFor({ timeout: 60_000 });
    const saving = page.waitForEvent('download');
    await dialog.getByRole('link', { name: 'Save the file' }).click();
    const text = (await read(await saving)).toString('utf8');
    const { items } = (await (await page.request.get('/api/v1/customers?limit=200')).json()) as {
      items: { name: string }[];
    };
    expect(text.trim().split('\r\n')).toHaveLength(items.length + 1);
    await visit.context.close();
  });

  it('fits a telephone, and opens and closes by keyboard', async () => {
    const visit = await stack.as('engineer', { width: 360, height: 740 });
    const { page } = visit;
    await page.goto('/issues');
    const button = page.getByRole('button', { name: 'Export', exact: true });
    // Once it can answer.
    await button.click({ trial: true });
    await button.focus();
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Export a table' });
    await dialog.waitFor();
    const box = await dialog.boundingBox();
    expect(Number(box?.x) >= 0 && Number(box?.x) + Number(box?.width) <= 360).toBe(true);
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Export');
    await visit.context.close();
  });
});
