import type { Page } from 'playwright-core';
import { startStack, type Stack } from '../support/stack.js';
import { typeKeys } from './support/keys.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const FAST = { delay: 3 };
const MOST_FIELDS = 30;

interface Named {
  id: string;
  name: string;
}
async function findFirst<T = Named>(page: Page, list: string): Promise<T> {
  const answer = await page.request.get(`/api/v1/${list}`);
  const [first] = ((await answer.json()) as { items: T[] }).items;
  if (first === undefined) throw new Error(`no ${list}`);
  return first;
}

/** Types over what stands in a field, key by key, and says how many fields were typed so far. */
class Typist {
  fields = 0;

  constructor(private readonly page: Page) {}

  async type(label: string, text: string): Promise<void> {
    const field = this.page.getByRole('dialog').getByLabel(label, { exact: true }).first();
    await field.click();
    await this.page.keyboard.press('ControlOrMeta+a');
    await typeKeys(this.page, text);
    expect(await field.inputValue()).toBe(text);
    this.fields += 1;
  }

  /** Finds one of many by a part of its name. */
  async find(label: string, text: string, choice: string): Promise<void> {
    const form = this.page.getByRole('dialog');
    await form.getByRole('combobox', { name: label, exact: true }).click();
    await this.page.keyboard.type(text, FAST);
    await this.page.getByRole('option', { name: choice }).click();
    await this.page.getByRole('listbox').waitFor({ state: 'detached' });
    this.fields += 1;
  }
}

describe('a second like machine', () => {
  it('is copied and commissioned with fewer than thirty fields typed', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const like = await findFirst<Named & { stations: Named[] }>(page, 'machines?limit=1');
    const typist = new Typist(page);
    const form = page.getByRole('dialog');
    await page.goto(`/machines/${like.id}`);
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    // Nothing is sent without a name; then it is typed, and the copy is made.
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await form.getByRole('link', { name: /Machine/ }).waitFor();
    await typist.type('Machine', 'Second like it');
    await typist.type('Serial', 'S-0002');
    await form.getByText('The settings of the copy have not been measured').waitFor();
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await page.waitForURL((url) => /^\/machines\//.test(url.pathname) && !url.pathname.endsWith(like.id));
    const copyId = new URL(page.url()).pathname.split('/').at(-1) ?? '';
    await page.getByText('none recorded').first().waitFor();
    const { items: circuits } = (await (await page.request.get(`/api/v1/circuits?machineId=${copyId}`)).json()) as {
      items: Named[];
    };
    expect(circuits).toHaveLength(
      ((await (await page.request.get(`/api/v1/circuits?machineId=${like.id}`)).json()) as { items: Named[] }).items
        .length,
    );
    for (const circuit of circuits) {
      await page.goto(`/machines/${copyId}?circuit=${circuit.id}`);
      await page.getByRole('button', { name: 'Enter as-left values' }).click();
      const target = await findFirst<{ setting: { value: number } }>(page, `target-settings?circuitId=${circuit.id}`);
      await typist.type('Setting', String(target.setting.value));
      await typist.type('Set point', String(target.setting.value - 18));
      await typist.type('Reset point', String(target.setting.value - 26));
      await typist.type('Air at the pump', '4.5');
      await typist.type('Clamp time, until the switch makes', '1.8');
      await typist.type('Until the last clamp touches', '1.4');
      await typist.type('Unclamp time, until all are open', '2.1');
      await typist.type('Report that the values come from', 'Commissioning');
      await typist.type('Why', 'first commissioning');
      const record = form.getByRole('button', { name: /^Record revision/ });
      await record.click();
      const anyway = form.getByRole('button', { name: 'Save all the same' });
      await anyway.or(page.locator('body:not(:has(dialog[open]))')).first().waitFor();
      if (await anyway.isVisible()) await anyway.click();
      await form.waitFor({ state: 'hidden' });
    }
    expect(circuits.length).toBeGreaterThan(1);
    expect(typist.fields).toBeLessThan(MOST_FIELDS);
    for (const circuit of circuits) {
      expect(await findFirst<{ revision: number }>(page, `setup-records?circuitId=${circuit.id}`)).toMatchObject({
        revision: 1,
      });
    }
    expect(complaints.filter((complaint) => !complaint.includes('422'))).toEqual([]);
    await context.close();
  });

  it('can be asked for on a phone, and nothing scrolls sideways', async () => {
    const { page, context } = await stack.as('engineer', { width: 360, height: 740 });
    const machine = await findFirst(page, 'machines?limit=1');
    await page.goto(`/machines/${machine.id}`);
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    await page.getByRole('dialog').getByLabel('Machine', { exact: true }).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await context.close();
  });
});

describe('what a like machine has, on a machine that was entered by hand', () => {
  it('is fitted and wired with a field for each circuit, power unit and control', async () => {
    const { page, context, complaints } = await stack.as('engineer');
    const like = await findFirst<Named & { siteId: string; stations: Named[] }>(page, 'machines?limit=1');
    const listOf = async <T>(list: string): Promise<T[]> =>
      ((await (await page.request.get(`/api/v1/${list}&limit=200`)).json()) as { items: T[] }).items;
    const [likeCircuit] = await listOf<Named>(`circuits?machineId=${like.id}`);
    const typist = new Typist(page);
    const form = page.getByRole('dialog');
    const save = async (button: string): Promise<void> => {
      await form.getByRole('button', { name: button, exact: true }).click();
      await form.waitFor({ state: 'detached' });
    };
    await page.goto(`/sites/${like.siteId}`);
    await page.getByRole('button', { name: 'Add a machine' }).first().click();
    await typist.type('Machine', 'ZMC-99');
    await form.getByRole('button', { name: 'Add a machine', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: /ZMC-99/ }).waitFor();
    const id = new URL(page.url()).pathname.split('/').at(-1) ?? '';
    await page.getByRole('button', { name: 'Add a power unit' }).first().click();
    await save('Add a power unit');
    await page.getByRole('button', { name: 'Add a circuit' }).first().click();
    await save('Add a circuit');
    const byHand = typist.fields;

    // The bare circuit is offered first, then the bare power unit.
    const copied: Record<string, unknown>[] = [];
    const choice = `${like.name}, ${likeCircuit?.name ?? ''}`;
    for (const onto of ['Pallet 1', 'PU1']) {
      await page.getByRole('button', { name: 'Fit what a like circuit has' }).click();
      expect(await form.getByLabel('Onto').locator('option:checked').textContent()).toBe(onto);
      await typist.find('Like circuit', like.name, choice);
      await form.getByText(/Serials, lots and dates of manufacture are not taken over/).waitFor();
      await form.getByText(/^\d+ components: /).waitFor();
      await save('Make the copy');
      const rows = await listOf<Record<string, unknown>>(`installed-components?machineId=${id}`);
      expect(rows.length).toBeGreaterThan(copied.length);
      copied.splice(0, copied.length, ...rows);
    }
    const there = (await listOf<Record<string, unknown>>(`installed-components?machineId=${like.id}`)).filter(
      ({ circuitId, validTo }) => validTo === null && (circuitId === null || circuitId === likeCircuit?.id),
    );
    const toTypes = (rows: Record<string, unknown>[]) => rows.map((row) => String(row['componentTypeId'])).sort();
    expect(toTypes(copied)).toEqual(toTypes(there));

    await page.goto(`/machines/${id}/control`);
    await page.getByRole('button', { name: 'Take over the control of a like machine' }).click();
    await typist.find('Like machine', like.name, like.name);
    await form.getByText(`Pallet 1 is wired like ${like.stations[0]?.name ?? ''} there.`).waitFor();
    await save('Make the copy');
    await page.getByRole('table', { name: 'M-codes' }).getByRole('rowheader').first().waitFor();
    expect(await page.getByRole('button', { name: 'Take over the control of a like machine' }).count()).toBe(0);
    expect((await listOf(`signals?machineId=${id}`)).length).toBeGreaterThan(0);
    expect(typist.fields - byHand).toBe(3);
    expect(complaints).toEqual([]);
    await context.close();
  });
});

describe('a second like circuit and fixture', () => {
  it('are copied where one looks for it; a number that is taken is told at its field', async () => {
    const { page, context } = await stack.as('engineer');
    const machine = await findFirst(page, 'machines?limit=1');
    const circuit = await findFirst(page, `circuits?machineId=${machine.id}`);
    const form = page.getByRole('dialog');
    const typist = new Typist(page);
    await page.goto(`/machines/${machine.id}`);
    await page.getByRole('button', { name: `Copy ${circuit.name}`, exact: true }).click();
    // Every station has a circuit: no name that is taken is offered.
    expect(await form.getByLabel('Name', { exact: true }).inputValue()).toBe('');
    await typist.type('Name', 'Steady rest');
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await form.waitFor({ state: 'hidden' });
    await page.getByRole('button', { name: 'Copy Steady rest', exact: true }).click();
    const fitted = await findFirst<{ designation: string }>(page, `installed-components?circuitId=${circuit.id}`);
    const taken = /(\d+)\.\d+$/.exec(fitted.designation)?.[1] ?? '';
    await typist.type('Circuit number in designations', taken);
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await form
      .getByText(/is fitted on this machine already: choose another number/)
      .first()
      .waitFor();

    const fixture = await findFirst(page, 'fixtures?limit=1');
    await page.goto(`/fixtures/${fixture.id}`);
    await page.getByRole('button', { name: 'Copy', exact: true }).click();
    await typist.type('Fixture', 'Like the first');
    await form.getByRole('button', { name: 'Make the copy' }).click();
    await page.getByRole('heading', { level: 1, name: /Like the first/ }).waitFor();
    await context.close();
  });
});
