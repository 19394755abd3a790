import { startStack, type Stack, type Visit } from '../support/stack.js';

let stack: Stack;
let visit: Visit;
let fixtureId: string;

beforeAll(async () => {
  stack = await startStack();
  visit = await stack.as('engineer');
  const answer = await visit.page.request.get('/api/v1/fixtures?limit=1');
  fixtureId = ((await answer.json()) as { items: { id: string }[] }).items[0]?.id ?? '';
}, 180_000);
afterAll(() => stack.stop());

/** The clamps and the locators of the fixture, in its order. */
const elements = {
  'element 1': ['0.2', '0 0 40  0 0 -1'],
  'element 3': ['0.2', '80 0 0  0 0 1\n-40 69.28 0  0 0 1\n-40 -69.28 0  0 0 1'],
} as const;

test('from a described cut to a required pressure, and what governs it', async () => {
  const { page } = visit;
  await page.goto(`/fixtures/${fixtureId}`);
  await page.getByRole('button', { name: 'Change', exact: true }).first().click();
  const dialog = page.getByRole('dialog');
  for (const [name, [friction, places]] of Object.entries(elements)) {
    const item = dialog.getByRole('group', { name, exact: true });
    await item.getByText('How it holds').click();
    await item.getByLabel('How many').fill(String(places.split('\n').length));
    await item.getByLabel('Friction at the workpiece').fill(friction);
    await item.getByLabel('Where each piece touches').fill(places);
  }
  // The supports hold nothing in this cut.
  const support = dialog.getByRole('group', { name: 'element 2', exact: true });
  await support.getByRole('button', { name: /^Remove/ }).click();
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.waitFor({ state: 'hidden' });

  await page.getByRole('button', { name: 'Add an operation' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Drill 8.5');
  await page.getByLabel('How is the required pressure known?').selectOption('computed');
  await page.getByLabel('Method').selectOption('drilling');
  await page.getByLabel('Material group').selectOption('42crmo4');
  await page.getByRole('textbox', { name: 'Diameter of the tool' }).fill('8.5');
  await page.getByRole('textbox', { name: 'Feed' }).fill('0.15');
  await page.getByRole('textbox', { name: 'Point angle' }).fill('118');
  await page.getByLabel('Factor on the thrust').fill('1');
  await page.getByLabel('Pull at breakthrough').fill('0.3');
  await page.getByLabel('Points of the path, or holes').fill('0 0 40');
  await page.getByLabel('Tool axis').fill('0 0 -1');
  await page.getByRole('textbox', { name: 'Mass of the workpiece' }).fill('0');
  await page.getByLabel('Centre of mass').fill('0 0 20');
  await page.getByLabel('Direction of the weight').fill('0 0 -1');
  await page.getByLabel('Safety factor').fill('2');
  await page.getByLabel('Edges of the friction cones').fill('16');
  await dialog.getByRole('button', { name: 'Add an operation' }).click();
  await dialog.waitFor({ state: 'hidden' });

  const row = page.getByRole('row').filter({ hasText: 'Drill 8.5' });
  await row.getByText('computed from the cut').waitFor();
  await row.getByRole('button', { name: 'How it came about' }).click();
  await page
    .getByText(/piece 1 governs; what asks for it, of 5 load cases: cutting at point 1, breaking through/)
    .waitFor();
  await page.getByText(/more, should the material resist by 20 % more/).waitFor();
  await page.getByText(/What would help most/).waitFor();
  expect(visit.complaints).toEqual([]);
});

test('another material group brings its own figures, where none were typed', async () => {
  const { page } = visit;
  await page.goto(`/fixtures/${fixtureId}`);
  await page.getByRole('button', { name: 'Add an operation' }).click();
  const dialog = page.getByRole('dialog');
  await page.getByLabel('Name', { exact: true }).focus();
  await page.keyboard.type('Pocket');
  await page.getByLabel('How is the required pressure known?').selectOption('computed');
  await page.getByLabel('Material group').selectOption('aluminium-wrought');
  await dialog.getByRole('button', { name: 'Add an operation' }).click();
  await dialog.getByText(/cannot be computed while these are not known: Diameter of the tool, Teeth, Feed/).waitFor();
  await dialog.getByRole('button', { name: 'Save all the same' }).click();
  await dialog.waitFor({ state: 'hidden' });
  const readCut = async () => {
    const answer = await page.request.get(`/api/v1/operations?fixtureId=${fixtureId}&limit=50`);
    const { items } = (await answer.json()) as {
      items: { name: string; cut: { materialGroup: string; kc11: { value: number }; mc: number } | null }[];
    };
    return items.find(({ name }) => name === 'Pocket')?.cut;
  };
  expect(await readCut()).toMatchObject({ materialGroup: 'aluminium-wrought', kc11: { value: 780 } });
  const openChange = async () => {
    await page
      .getByRole('row')
      .filter({ hasText: 'Pocket' })
      .getByRole('button', { name: /^Change/ })
      .click();
  };
  /** Saves, and waits until the list knows of the period that has begun. */
  const saveChange = async () => {
    const isList = (url: string) => new URL(url).pathname === '/api/v1/operations';
    const reread = page.waitForResponse((answer) => answer.request().method() === 'GET' && isList(answer.url()));
    await dialog.getByRole('button', { name: 'Change from then on' }).click();
    await dialog.waitFor({ state: 'hidden' });
    await reread;
  };

  await openChange();
  const typedForce = dialog.getByLabel('Specific cutting force kc1.1', { exact: true });
  expect(await typedForce.inputValue()).toBe('');
  await dialog.getByLabel('Material group').selectOption('42crmo4');
  await saveChange();
  expect(await readCut()).toMatchObject({ materialGroup: '42crmo4', kc11: { value: 2500 }, mc: 0.26 });

  // What was typed stays, whatever the group says.
  await openChange();
  await typedForce.focus();
  await page.keyboard.type('2600');
  await saveChange();
  await openChange();
  expect(await typedForce.inputValue()).toBe('2600');
  await page.keyboard.press('Escape');
});

test('a choice that brings other fields keeps the focus, so that one can go on by keys', async () => {
  const { page } = visit;
  await page.goto(`/fixtures/${fixtureId}`);
  await page.getByRole('button', { name: 'Add an operation' }).click();
  const choice = page.getByRole('dialog').getByLabel('How is the required pressure known?');
  await choice.focus();
  await page.keyboard.press('ArrowDown');
  await page.getByLabel('Method').waitFor();
  expect(await choice.evaluate((element) => element === document.activeElement)).toBe(true);
  const limit = page.getByRole('dialog').getByLabel('What the workpiece allows').first();
  await limit.focus();
  await page.keyboard.press('ArrowDown');
  expect(await limit.evaluate((element) => element === document.activeElement)).toBe(true);
  await page.keyboard.press('Escape');
});
