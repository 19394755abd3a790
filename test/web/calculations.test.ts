import { startStack, violationsOf, type Stack } from '../support/stack.js';
import { computed, copied, copyButton, expectSame, open, quantity } from './support/calculation-page.js';

let stack: Stack;
beforeAll(async () => {
  stack = await startStack();
}, 180_000);
afterAll(() => stack.stop());

const SEQUENCE = {
  pump: { freeFlow: quantity(1.2, 'L/min'), stallPressure: quantity(210, 'bar') },
  supplyResistance: quantity(2, 'bar.min/L'),
  returnResistance: quantity(1, 'bar.min/L'),
  lineVolume: quantity(300, 'mL'),
  oil: { bulkModulus: quantity(1400, 'MPa'), airFraction: 0.005 },
  cylinders: [
    {
      count: 2,
      bore: quantity(25, 'mm'),
      rod: quantity(12, 'mm'),
      stroke: quantity(12, 'mm'),
      friction: quantity(60, 'N'),
      viscousFriction: quantity(400, 'N.s/m'),
      contactStiffness: quantity(40, 'N/um'),
    },
    {
      count: 1,
      bore: quantity(40, 'mm'),
      rod: quantity(20, 'mm'),
      stroke: quantity(8, 'mm'),
      friction: quantity(200, 'N'),
      viscousFriction: quantity(600, 'N.s/m'),
      contactStiffness: quantity(60, 'N/um'),
    },
  ],
  switchRising: quantity(165, 'bar'),
};

describe('a calculation', () => {
  it('opens with the inputs of its link, shows its plot with the figures as a table, in units that switch', async () => {
    const visit = await stack.as('engineer');
    const { page } = visit;
    const inputs = { grade: 46, viscosityIndex: 100, temperature: quantity(20, 'Cel') };
    await open(visit, 'oil-viscosity', inputs);
    expect(await page.getByLabel(/^Grade/).inputValue()).toBe('46');
    const plot = page.getByRole('figure', { name: 'Viscosity over temperature' });
    await plot.getByRole('img').waitFor();
    await plot.getByText('Figures of this plot as a table').click();
    const rows = plot.getByRole('table').nth(1).getByRole('row');
    expect(await rows.count()).toBe(62);
    // By the definition of the grade: 46 mm²/s at 40 °C. The samples stand 110/60 K apart; the first is at −10 °C.
    expect(await rows.nth(1).textContent()).toMatch(/^−10/);
    await plot.getByLabel('Unit of temperature').selectOption('K');
    expect(await rows.nth(1).textContent()).toMatch(/^263\.15/);
    const link = new URL(page.url()).searchParams.get('inputs');
    expect(JSON.parse(link ?? '')).toEqual(inputs);
    expect(await violationsOf(page)).toEqual([]);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it('copies as JSON, which computes to the same result over HTTP', async () => {
    const visit = await stack.as('engineer');
    const inputs = {
      required: quantity(150, 'bar'),
      setting: quantity(190, 'bar'),
      settingTolerance: quantity(5, 'bar'),
      switchAccuracy: quantity(3, 'bar'),
      deadband: quantity(10, 'bar'),
    };
    await open(visit, 'switch-window', inputs);
    await copyButton(visit).waitFor();
    const copy = await copied(visit);
    expect(copy).toMatchObject({ id: 'switch-window', inputs });
    expect(await computed(visit, copy.id, copy.inputs)).toEqual(copy.result);
    await visit.page.getByRole('figure', { name: 'Where the switch may stand' }).getByRole('img').waitFor();
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it('shows the clamping transient with set point and contacts, run off the main thread, as the server has it', async () => {
    const visit = await stack.as('engineer');
    const { page } = visit;
    const workers: string[] = [];
    page.on('worker', (worker) => workers.push(worker.url()));
    await open(visit, 'clamp-sequence', SEQUENCE);
    const plot = page.getByRole('figure', { name: 'Pressure while clamping' });
    for (const mark of ['set point', 'contact 1', 'contact 2', 'switch makes'])
      await plot.locator('svg').getByText(mark, { exact: true }).waitFor();
    await page
      .getByRole('figure', { name: /What the pump gives/ })
      .getByRole('listitem')
      .nth(1)
      .waitFor();
    expect(workers.length).toBeGreaterThan(0);
    const copy = await copied(visit);
    // Between engines the last digit of a power may differ, and an adaptive step with it: the answers agree, step by step they need not.
    const { series: _here, ...here } = copy.result;
    const { series: _there, ...there } = (await computed(visit, copy.id, copy.inputs)) as Record<string, unknown>;
    expectSame(there, here);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it('fills the figures of a material, with its source, and lets go of it when they are typed over', async () => {
    const visit = await stack.as('engineer');
    const { page } = visit;
    await page.goto('/calculations/specific-cutting-force');
    const material = page.getByLabel('Material of the workpiece');
    await material.selectOption('42crmo4');
    await page.getByText(/^Unconfirmed: from memory/).waitFor();
    expect(await page.getByLabel('Specific cutting force at 1 mm by 1 mm', { exact: true }).inputValue()).toBe('2500');
    expect(await page.getByLabel('Exponent of the chip thickness', { exact: true }).inputValue()).toBe('0.26');
    await page.getByLabel('Exponent of the chip thickness', { exact: true }).fill('0.3');
    expect(await material.inputValue()).toBe('');
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });

  it('gives WebAssembly to workers alone: no page may compile any', async () => {
    const visit = await stack.as('engineer');
    const { page } = visit;
    const document = await page.goto('/calculations/holding-force');
    expect(document?.headers()['content-security-policy']).not.toContain('wasm');
    const isRefused = await page.evaluate(() =>
      WebAssembly.compile(Uint8Array.from([0, 97, 115, 109, 1, 0, 0, 0])).then(
        () => false,
        () => true,
      ),
    );
    expect(isRefused).toBe(true);
    await visit.context.close();
  });
});
