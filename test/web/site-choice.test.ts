import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

interface Machine {
  id: string;
  siteId: string;
  customerId: string;
}

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
  // More than a form reads at once, and the one that is looked for among the last.
  await stack.query(`INSERT INTO sites (organisation_id, customer_id, id, name, address, place, country, time_zone, access_windows, note)
    SELECT organisation_id, customer_id, ('ffffffff-0000-4000-8000-' || lpad(number::text, 12, '0'))::uuid, 'Works ' || number, '', 'Farplace', '', 'UTC', '[]', ''
    FROM (SELECT DISTINCT organisation_id, customer_id FROM sites LIMIT 1) one, generate_series(1000, 1260) number`);
}, 180_000);
afterAll(() => stack.stop());

async function findMachines(page: Page): Promise<Machine[]> {
  const answer = await page.request.get('/api/v1/machines?limit=200');
  return ((await answer.json()) as { items: Machine[] }).items;
}

async function choose(page: Page, site: string): Promise<void> {
  const field = page.getByRole('dialog').getByRole('combobox', { name: 'Site', exact: true });
  await field.click();
  await page.keyboard.press('ControlOrMeta+a');
  await page.keyboard.type(site, { delay: 5 });
  await page.getByRole('option', { name: new RegExp(site) }).click();
  await page.getByRole('listbox').waitFor({ state: 'detached' });
}

const siteOf = async (page: Page, id: string): Promise<string> =>
  ((await (await page.request.get(`/api/v1/machines/${id}`)).json()) as Machine).siteId;

test('a site that is none of the first two hundred is found by typing, for a machine that moves and for a second like it', async () => {
  const { page, context, complaints } = await stack.as('engineer');
  const far = (await (await page.request.get('/api/v1/sites?limit=10&search=works%201255')).json()) as {
    items: { id: string; customerId: string }[];
  };
  expect(far.items).toHaveLength(1);
  const [site] = far.items;
  const machine = (await findMachines(page)).find(({ customerId }) => customerId === site?.customerId);
  await page.goto(`/machines/${machine?.id ?? ''}`);
  await page.getByRole('button', { name: 'Change', exact: true }).click();
  await choose(page, 'Works 1255');
  await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click();
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
  expect(await siteOf(page, machine?.id ?? '')).toBe(site?.id);

  await page.getByRole('button', { name: 'Copy', exact: true }).click();
  await page.getByRole('dialog').getByLabel('Machine', { exact: true }).pressSequentially('A second like it');
  await choose(page, 'Works 1260');
  await page.getByRole('dialog').getByRole('button', { name: 'Make the copy' }).click();
  await page.waitForURL((url) => /^\/machines\//.test(url.pathname) && !url.pathname.endsWith(machine?.id ?? ''));
  expect(await siteOf(page, new URL(page.url()).pathname.split('/').at(-1) ?? '')).toMatch(/1260$/);
  expect(complaints).toEqual([]);
  await context.close();
});

test('a search of sites goes page by page, by name and by place, of one customer or of all', async () => {
  const { page, context } = await stack.as('engineer');
  const found: string[] = [];
  let cursor: string | null = '';
  while (cursor !== null) {
    const query = new URLSearchParams({ limit: '100', search: 'FARPLACE', ...(cursor === '' ? {} : { cursor }) });
    const answer = await page.request.get(`/api/v1/sites?${query.toString()}`);
    expect(answer.status()).toBe(200);
    const read = (await answer.json()) as { items: { id: string }[]; nextCursor: string | null };
    found.push(...read.items.map(({ id }) => id));
    cursor = read.nextCursor;
  }
  expect(new Set(found).size).toBe(261);
  await context.close();
});
