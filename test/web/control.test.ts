import { startStack, type Stack, type Visit } from '../support/stack.js';

let stack: Stack;
let visit: Visit;
let machineId: string;

beforeAll(async () => {
  stack = await startStack();
  visit = await stack.as('engineer');
  const answer = await visit.page.request.get('/api/v1/circuits/standings?limit=200');
  const { items } = (await answer.json()) as { items: { machineId: string; checkCode: string }[] };
  machineId = items.find((one) => one.checkCode === 'interlock-sound')?.machineId ?? '';
}, 180_000);
afterAll(() => stack.stop());

test('a broken interlock tells its story; saying that a reset unclamps nothing makes it sound, and the machine follows', async () => {
  const { page } = visit;
  await page.goto(`/machines/${machineId}/control`);
  await page.getByRole('heading', { level: 1, name: /^Control wiring of/ }).waitFor();
  await page.getByText('A rule can be broken without any fault.').waitFor();
  const story = page.getByRole('listitem').filter({ hasText: /^Reset: not clamped/ });
  expect(await story.count()).toBeGreaterThan(0);

  await page.getByRole('button', { name: 'Say what the control does' }).click();
  await page.getByLabel('At a reset the outputs').selectOption({ label: 'stay as they are' });
  await page.getByLabel('When power returns the outputs').selectOption({ label: 'go off' });
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText(/While nothing is faulty every rule holds/).waitFor();
  expect(visit.complaints).toEqual([]);
});

test('a wire is entered with its figures, beside the signal that it belongs to', async () => {
  const { page } = visit;
  const row = page.getByRole('row').filter({ hasText: 'Y1' });
  await row.locator('summary').click();
  await row.getByRole('button', { name: 'Add a wire to Y1' }).click();
  await page.getByLabel('Wire number').fill('W77');
  await page.getByLabel('From terminal').fill('X9.1');
  await page.getByLabel('Fuse or breaker [A]').fill('4');
  await page.getByRole('button', { name: 'Add a wire', exact: true }).click();
  await page.getByText('W77: X9.1 → Y1').waitFor();
  // A wire of which little is known leaves the wiring unproven, and the machine says so.
  await page.goto(`/machines/${machineId}`);
  const check = page.locator('details').filter({ hasText: 'Control wiring' }).first();
  await check.getByText('unproven').first().waitFor();
  expect(visit.complaints).toEqual([]);
});

test('on paper every wire is written out, and M-codes stand in their order', async () => {
  const { page } = visit;
  await page.goto(`/machines/${machineId}/control`);
  const wire = page.getByRole('row').filter({ hasText: 'Y0' }).locator('details li').first();
  await wire.waitFor({ state: 'attached' });
  const isDrawn = (): Promise<boolean> =>
    wire.evaluate((item) => item.checkVisibility({ contentVisibilityAuto: true }) && item.clientHeight > 0);
  expect(await isDrawn()).toBe(false);
  await page.emulateMedia({ media: 'print' });
  expect(await isDrawn()).toBe(true);
  await page.emulateMedia({ media: null });
  const table = page.getByRole('table', { name: 'M-codes' });
  const codes = await table.getByRole('rowheader').allTextContents();
  expect(codes.length).toBeGreaterThan(1);
  expect(codes).toEqual([...codes].sort());
});
