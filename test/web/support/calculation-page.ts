import type { Locator } from 'playwright-core';
import type { Visit } from '../../support/stack.js';

/** What tests of the pages of calculations share. */
export const quantity = (value: unknown, unit: string): { value: unknown; unit: string } => ({ value, unit });

export /** A part on six locators under two clamps, cut along a path. */
const holding = (cases: number): Record<string, unknown> => ({
  partMass: quantity(5, 'kg'),
  centreOfMass: quantity([100, 60, 40], 'mm'),
  locators: [
    [20, 20, 0, 0, 0, 1],
    [180, 20, 0, 0, 0, 1],
    [100, 100, 0, 0, 0, 1],
    [40, 0, 30, 0, 1, 0],
    [160, 0, 30, 0, 1, 0],
    [0, 60, 30, 1, 0, 0],
  ].map(([x, y, z, ...normal]) => ({ point: quantity([x, y, z], 'mm'), normal, friction: 0.2 })),
  clamps: [60, 140].map((x) => ({
    name: `clamp at ${x}`,
    point: quantity([x, 60, 80], 'mm'),
    direction: [0, 0, -1],
    force: quantity(7, 'kN'),
    friction: 0.2,
  })),
  loads: Array.from({ length: cases }, (_, index) => ({
    force: quantity([900 * Math.cos(index / 7), 900 * Math.sin(index / 7), 100], 'N'),
    point: quantity([20 + (160 * index) / cases, 60, 80], 'mm'),
  })),
  safetyFactor: 2,
});

const linkTo = (id: string, inputs: unknown): string => {
  const text = JSON.stringify(inputs);
  const parameters = new URLSearchParams({ inputs: text }).toString();
  return `/calculations/${id}${text.length > 4000 ? '#' : '?'}${parameters}`;
};

export async function open({ page }: Visit, id: string, inputs: unknown): Promise<void> {
  await page.goto(linkTo(id, inputs));
  await page.getByRole('heading', { level: 1 }).waitFor();
}

export const copyButton = (visit: Visit): Locator => visit.page.getByRole('button', { name: 'Copy as JSON' });

/** What "Copy as JSON" put on the clipboard. */
export async function copied(visit: Visit): Promise<{ id: string; inputs: unknown; result: Record<string, unknown> }> {
  await visit.context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await copyButton(visit).click();
  await visit.page.getByText('Copied').waitFor();
  const text = await visit.page.evaluate(() => navigator.clipboard.readText());
  return JSON.parse(text) as { id: string; inputs: unknown; result: Record<string, unknown> };
}

/** The same calculation over HTTP. */
export async function computed({ page }: Visit, id: string, inputs: unknown): Promise<unknown> {
  const response = await page.request.post(`/api/v1/calculations/${id}`, {
    data: inputs as Record<string, unknown>,
    headers: { 'sec-fetch-site': 'same-origin' },
  });
  expect(response.status()).toBe(200);
  return response.json();
}

/** The same but for the last digits of numbers, in which one engine's `Math.pow` differs from another's. */
export function expectSame(mine: unknown, other: unknown, path = 'result'): void {
  if (typeof mine === 'number' && typeof other === 'number') {
    const isNear = Math.abs(mine - other) <= 1e-7 * Math.max(Math.abs(mine), Math.abs(other)) + 1e-12;
    expect([path, isNear ? other : mine]).toEqual([path, other]);
  } else if (typeof mine === 'object' && mine !== null && typeof other === 'object' && other !== null) {
    expect([path, Object.keys(mine)]).toEqual([path, Object.keys(other)]);
    for (const [key, value] of Object.entries(mine))
      expectSame(value, (other as typeof mine)[key as never], `${path}.${key}`);
  } else expect([path, mine]).toEqual([path, other]);
}
