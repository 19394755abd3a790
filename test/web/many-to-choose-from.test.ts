import type { Locator, Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';

/** Beyond what a form reads at once: what is looked for is among the last. */
const MANY = 260;

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
  await stack.query(`INSERT INTO fixtures (organisation_id, customer_id, id, name)
    SELECT organisation_id, customer_id, ('ffffffff-0000-4000-8000-' || lpad(number::text, 12, '0'))::uuid, 'Plate ' || number
    FROM (SELECT DISTINCT organisation_id, customer_id FROM fixtures) customers, generate_series(1000, ${999 + MANY}) number
    WHERE customer_id = (SELECT customer_id FROM machines ORDER BY name, id LIMIT 1)`);
  await stack.query(`INSERT INTO machines (organisation_id, customer_id, id, site_id, name, form, way_in)
    SELECT organisation_id, customer_id, ('00000000-0000-4000-8000-' || lpad(number::text, 12, '0'))::uuid, site_id, 'A ' || number, form, way_in
    FROM (SELECT * FROM machines ORDER BY name, id LIMIT 1) one, generate_series(1000, ${999 + MANY}) number`);
}, 180_000);
afterAll(() => stack.stop());

async function waitForValue(field: Locator, text: string): Promise<void> {
  const handle = await field.elementHandle();
  await field
    .page()
    .waitForFunction(([box, part]) => (box as HTMLInputElement).value.includes(part as string), [
      handle,
      text,
    ] as const);
}

async function choose(
  page: Page,
  label: string,
  text: string,
  root: Page | Locator = page.getByRole('dialog'),
): Promise<void> {
  const field = root.getByRole('combobox', { name: label, exact: true });
  await field.click();
  await page.keyboard.type(text, { delay: 5 });
  await page
    .getByRole('option', { name: new RegExp(text) })
    .first()
    .click();
  await page.getByRole('listbox').waitFor({ state: 'detached' });
}

async function listOf<T>(page: Page, list: string): Promise<T[]> {
  const answer = await page.request.get(`/api/v1/${list}`);
  return ((await answer.json()) as { items: T[] }).items;
}
interface Standing {
  machineId: string;
  machineName: string;
  customerId: string;
}

/** One that is read with the circuits, and not with the first two hundred machines. */
async function findFarMachine(page: Page): Promise<Standing> {
  const first = await listOf<{ id: string }>(page, 'machines?limit=200');
  const standings = await listOf<Standing>(page, 'circuits/standings?limit=200');
  const far = standings.find(({ machineId }) => !first.some(({ id }) => id === machineId));
  if (far === undefined) throw new Error('every machine is among the first');
  return far;
}

test('a fixture that is none of the first two hundred is fitted', async () => {
  const { page, context, complaints } = await stack.as('installer');
  const far = `Plate ${999 + MANY}`;
  const [like] = await listOf<{ customerId: string }>(page, 'machines?limit=1');
  const customerId = like?.customerId ?? '';
  const first = await listOf<{ name: string }>(page, `fixtures?limit=200&customerId=${customerId}`);
  expect(first).toHaveLength(200);
  expect(first.map(({ name }) => name)).not.toContain(far);
  const [standing] = await listOf<Standing>(page, `circuits/standings?limit=1&customerId=${customerId}`);
  await page.goto(`/machines/${standing?.machineId ?? ''}`);
  const read: string[] = [];
  page.on('request', (request) => {
    if (request.url().includes('/fixtures?')) read.push(request.url());
  });
  await page.getByRole('button', { name: 'Fit a fixture', exact: true }).first().click();
  await choose(page, 'Fixture', far);
  // Looked for where they are, not by reading one page after the other.
  expect(read.filter((url) => url.includes('cursor='))).toEqual([]);
  await page.getByRole('dialog').getByRole('button', { name: 'Fit a fixture' }).click();
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await page.getByRole('link', { name: far }).first().waitFor();
  expect(complaints).toEqual([]);
  await context.close();
});

test('an issue is opened for a machine that is none of the first two hundred, from its own page', async () => {
  const { page, context, complaints } = await stack.as('lead');
  const far = await findFarMachine(page);
  await page.goto(`/issues/new?machine=${far.machineId}`);
  // A list this long is one to type in; before that is known, the field is a plain one.
  const chosen = page.locator('input[role=combobox]');
  await waitForValue(chosen, `${far.machineName}, `);
  await page.getByLabel('Title').pressSequentially('It drips', { delay: 5 });
  await page.getByRole('button', { name: 'Open the issue' }).click();
  await page.waitForURL(/issues\/[0-9a-f]{8}/);
  await page.getByRole('link', { name: far.machineName }).first().waitFor();
  expect(complaints).toEqual([]);
  await context.close();
});

test('a machine that is none of the first two hundred is named at a source', async () => {
  const { page, context, complaints } = await stack.as('admin');
  const far = await findFarMachine(page);
  await page.goto('/sources');
  await page.getByRole('link', { name: 'Gateway north' }).click();
  await page.getByRole('button', { name: 'Name a machine', exact: true }).last().click();
  await page.getByRole('dialog').getByLabel('Its reference').pressSequentially('far-off', { delay: 5 });
  await choose(page, 'Machine', far.machineName);
  await page.getByRole('dialog').getByRole('button', { name: 'Name a machine' }).click();
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  const sourceId = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  const named = await listOf<{ externalReference: string; machineId: string }>(
    page,
    `sources/${sourceId}/machines?limit=200`,
  );
  expect(named).toContainEqual(expect.objectContaining({ externalReference: 'far-off', machineId: far.machineId }));
  expect(complaints).toEqual([]);
  await context.close();
});

test('a machine that has no circuit and is none of the first two hundred is found by typing', async () => {
  const { page, context, complaints } = await stack.as('lead');
  const [far, id] = [`A ${999 + MANY}`, `00000000-0000-4000-8000-${String(999 + MANY).padStart(12, '0')}`];
  const first = await listOf<{ id: string }>(page, 'machines?limit=200');
  expect(first.map((machine) => machine.id)).not.toContain(id);
  await page.goto('/issues/new');
  const form = page.getByRole('form', { name: 'Open an issue' });
  await form.getByRole('combobox', { name: 'Machine', exact: true }).waitFor();
  await page.getByRole('button', { name: 'Open the issue' }).click();
  await form.getByRole('alert').first().waitFor();
  await choose(page, 'Machine', far, page);
  await page.getByLabel('Title').pressSequentially('It drips', { delay: 5 });
  await page.getByRole('button', { name: 'Open the issue' }).click();
  await page.waitForURL(/issues\/[0-9a-f]{8}/);
  expect(await page.getByRole('link', { name: far }).first().getAttribute('href')).toBe(`/machines/${id}`);
  expect(complaints).toEqual([]);
  await context.close();
});
