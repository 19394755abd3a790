import type { BrowserContext, Locator, Page } from 'playwright-core';
import { startStack, type Stack, type Visit } from '../support/stack.js';
import { typeKeys } from './support/keys.js';
import { RECORD_FORM_VISITS } from './support/record-form-visits.js';

let stack: Stack;
/** One page of each person, who reads pressures in psi. */
const people = new Map<string, Visit>();

beforeAll(async () => {
  stack = await startStack();
  await makeBareMachine((await pageOf('engineer')).context().request);
}, 180_000);
afterAll(() => stack.stop());

/** Without a control, which it then takes over from a like one. */
async function makeBareMachine(request: BrowserContext['request']): Promise<void> {
  const sites = (await (await request.get('/api/v1/sites?limit=1')).json()) as { items: { id: string }[] };
  const headers = { 'idempotency-key': '"bare"', origin: stack.base };
  const stations = [{ id: crypto.randomUUID(), name: 'Pallet 1' }];
  const data = { id: crypto.randomUUID(), siteId: sites.items[0]?.id, name: 'Of every form', form: 'single-station', wayIn: 'direct', stations }; // prettier-ignore
  const made = await request.post('/api/v1/machines', { headers, data });
  expect([made.status(), await made.text()]).toEqual([201, expect.any(String)]);
}

async function pageOf(who: string): Promise<Page> {
  const known = people.get(who);
  if (known !== undefined) return known.page;
  const visit = await stack.as(who);
  people.set(who, visit);
  await visit.page.goto('/fleet');
  await visit.page.getByRole('button', { name: 'psi', exact: true }).click();
  await visit.page.waitForLoadState('networkidle');
  return visit.page;
}

interface Figure {
  id: string;
  label: string;
  text: string;
  unit: string;
  /** offered beside it: code and symbol */
  units: { unit: string; symbol: string }[];
}

/** The figures of a form with what is offered beside each. */
function readFigures(form: Locator): Promise<Figure[]> {
  return form.locator('span:has(> input + select)').evaluateAll((pairs) =>
    pairs.map((pair) => {
      const input = pair.querySelector('input') as HTMLInputElement;
      const select = pair.querySelector('select') as HTMLSelectElement;
      const units = [...select.options].map(({ value, text }) => ({ unit: value, symbol: text }));
      return {
        id: input.id,
        label: input.labels?.[0]?.textContent ?? '',
        text: input.value,
        unit: select.value,
        units,
      };
    }),
  );
}

const isPressure = ({ units }: Figure): boolean => units.map(({ unit }) => unit).join() === 'bar,[psi],MPa';
/** What is advised beside a field, in another unit than that of the page. */
const ELSEWHERE = /\d\s?(bar|MPa)\b/;

async function openForm(head: string): Promise<{ page: Page; form: Locator }> {
  const visit = RECORD_FORM_VISITS.find((one) => one.head === head);
  if (visit === undefined || visit.who === null) throw new Error(`no visit of ${head}`);
  const page = await pageOf(visit.who);
  await visit.open(page);
  const form = page.locator(`form:has([id^="${head}"])`).last();
  await form.waitFor();
  await form.locator('details').evaluateAll((all) => all.forEach((one) => one.setAttribute('open', '')));
  return { page, form };
}

/** The next form is opened on the same page: what lies over it is closed. */
async function closeForm(page: Page): Promise<void> {
  const dialog = page.getByRole('dialog');
  if ((await dialog.count()) === 0) return;
  await dialog.getByRole('button', { name: 'Close', exact: true }).first().click();
  await dialog.waitFor({ state: 'detached' });
}

describe('with a page in psi', () => {
  let figures = 0;
  it.each(RECORD_FORM_VISITS.map(({ head }) => head))(
    'the figures of %s are in psi, and read any unit that is typed',
    async (head) => {
      const { page, form } = await openForm(head);
      const found = await readFigures(form);
      figures += found.length;
      expect(found.filter((figure) => isPressure(figure) && figure.unit !== '[psi]')).toEqual([]);
      const hints = await form.locator(`[id$="-hint"]`).allTextContents();
      expect(hints.filter((hint) => ELSEWHERE.test(hint))).toEqual([]);
      for (const { id, label, units, unit } of found) {
        const other = units.find((one) => one.unit !== unit) ?? units[0];
        const field = page.locator(`[id="${id}"]`);
        await field.focus();
        await page.keyboard.press('ControlOrMeta+a');
        await typeKeys(page, `7 ${other?.symbol ?? ''}`);
        await page.keyboard.press('Tab');
        const after = (await readFigures(form)).find((figure) => figure.id === id);
        // A plain number that is meant as a ratio may be typed in per cent, and stays one or becomes one.
        expect([label, after?.text, after?.unit]).toEqual([label, '7', other?.unit]);
      }
      await closeForm(page);
    },
  );

  it('there are many such figures', () => {
    expect(figures).toBeGreaterThan(100);
  });
});
