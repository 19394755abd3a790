import { millingLoads } from '../src/cutting/cut-loads.js';
import { holdingForce, type HoldingChange, type HoldingForceInput } from '../src/holding/holding-force.js';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { calculate } from '../src/registry/registry.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** Numbers from 0 to 1 from a seed (a linear congruence with the constants of Numerical Recipes). */
function toDice(seed: number): () => number {
  let state = seed;
  return () => (state = (1664525 * state + 1013904223) % 2 ** 32) / 2 ** 32;
}

const aFixture = (seed: number, change: Partial<HoldingForceInput> = {}): HoldingForceInput => {
  const dice = toDice(seed);
  const near = (value: number): number => value * (0.8 + 0.4 * dice());
  return {
    solver,
    partMassKg: 4,
    centreOfMassM: [0.1, 0.06, 0.04],
    gravity: [0, 0, -1],
    locators: [
      { pointM: [0.02, 0.02, 0], normal: [0, 0, 1], friction: near(0.15) },
      { pointM: [0.18, 0.02, 0], normal: [0, 0, 1], friction: near(0.15) },
      { pointM: [0.1, 0.1, 0], normal: [0, 0, 1], friction: near(0.15) },
      { pointM: [near(0.04), 0, 0.03], normal: [0, 1, 0], friction: near(0.15) },
      { pointM: [near(0.16), 0, 0.03], normal: [0, 1, 0], friction: near(0.15) },
      { pointM: [0, near(0.06), 0.03], normal: [1, 0, 0], friction: near(0.15) },
    ],
    clamps: [
      { name: 'left', pointM: [near(0.06), near(0.05), 0.08], direction: [0, 0, -1], forceN: near(6000), friction: 0.1, fixed: false },
      { name: 'right', pointM: [near(0.14), near(0.05), 0.08], direction: [0, 0, -1], forceN: near(6000), friction: 0, fixed: false },
      { name: 'screw', pointM: [0.1, 0.12, 0.03], direction: [0, -1, 0], forceN: 500, friction: 0.1, fixed: true },
    ],
    loads: millingLoads({ pathM: [[0.03, 0.06, 0.08], [0.1, 0.09, 0.08], [0.17, 0.06, 0.08]], toolAxis: [0, 0, -1], cutterDiameterM: 0.063, teeth: [{ tangentialN: 900, resultantN: 900 }], radialRatio: 0.4, axialForceN: -100, directions: 6 }),
    safetyFactor: 2,
    coneFacets: 8,
    ...change,
  }; // prettier-ignore
};

const scaleOf = (input: HoldingForceInput): number => holdingForce({ ...input, shiftM: undefined }).scale ?? Infinity;
const STEPS = { forceStep: 0.1, frictionStep: 0.05 };

/** What every change of force or friction gives, by solving each in full. */
function tryAll(input: HoldingForceInput): number {
  const found: number[] = [];
  input.clamps.forEach((_, index) => {
    const change = (one: Partial<HoldingForceInput['clamps'][number]>): HoldingForceInput['clamps'] =>
      input.clamps.map((clamp, place) => (place === index ? { ...clamp, ...one } : clamp));
    const { forceN, friction } = input.clamps[index] as HoldingForceInput['clamps'][number];
    found.push(scaleOf({ ...input, clamps: change({ forceN: forceN * 1.1 }) }));
    found.push(scaleOf({ ...input, clamps: change({ friction: friction + 0.05 }) }));
  });
  input.locators.forEach((_, index) => {
    const locators = input.locators.map((locator, place) =>
      place === index ? { ...locator, friction: locator.friction + 0.05 } : locator,
    );
    found.push(scaleOf({ ...input, locators }));
  });
  return Math.min(...found);
}

/** The fixture with a change made by hand. */
function withChange(input: HoldingForceInput, change: HoldingChange): HoldingForceInput {
  const { kind, index, newForceN, newFriction, newPointM } = change;
  const made = {
    ...(newForceN === null ? {} : { forceN: newForceN }),
    ...(newFriction === null ? {} : { friction: newFriction }),
    ...(newPointM === null ? {} : { pointM: newPointM }),
  };
  return kind.startsWith('clamp')
    ? { ...input, clamps: input.clamps.map((one, place) => (place === index ? { ...one, ...made } : one)) }
    : { ...input, locators: input.locators.map((one, place) => (place === index ? { ...one, ...made } : one)) };
}

test('the best change is the best of all that can be tried, over twenty fixtures', () => {
  for (let seed = 1; seed <= 20; seed += 1) {
    const input = aFixture(seed);
    const { scale, bestChange } = holdingForce({ ...input, ...STEPS });
    if (bestChange === null || scale === null) throw new Error(`seed ${seed}: no change found`);
    expect([seed, bestChange.newScale / tryAll(input)]).toEqual([seed, expect.closeTo(1, 6)]);
    expect(bestChange.newScale).toBeCloseTo(scaleOf(withChange(input, bestChange)), 9);
    expect(bestChange.gain).toBeCloseTo(scale - bestChange.newScale, 12);
    expect(bestChange.gain).toBeGreaterThan(0);
  }
});

test('a contact is moved along its face, no further than it may, and the gain is that of the moved fixture', () => {
  let moved = 0;
  for (let seed = 1; seed <= 10; seed += 1) {
    const input = aFixture(seed);
    const { scale, bestChange } = holdingForce({ ...input, shiftM: 0.01 });
    if (bestChange === null) continue;
    moved += 1;
    const { kind, index, newPointM } = bestChange;
    const from = (kind === 'clamp-position' ? input.clamps[index] : input.locators[index])?.pointM ?? [0, 0, 0];
    const shift = [0, 1, 2].map((axis) => Number(newPointM?.[axis]) - Number(from[axis]));
    expect(Math.hypot(...shift)).toBeCloseTo(0.01, 9);
    expect(bestChange.newScale).toBeCloseTo(scaleOf(withChange(input, bestChange)), 9);
    expect(bestChange.newScale).toBeLessThan(Number(scale));
  }
  expect(moved).toBeGreaterThan(5);
});

test('with limits on the locators every case is looked at again', () => {
  const input = aFixture(3);
  const locators = input.locators.map((locator) => ({ ...locator, limitN: 30_000 }));
  const { bestChange } = holdingForce({ ...input, locators, ...STEPS });
  expect(bestChange?.newScale).toBeCloseTo(tryAll({ ...input, locators }), 6);
});

test('where one locator bears too little for more, no change is made up', () => {
  // The stop is frictionless and at the only height: force and friction of the clamp do not reach the pull.
  const result = holdingForce({
    solver, partMassKg: 0, gravity: [0, 0, -1], safetyFactor: 1, coneFacets: 8, frictionStep: 0.1,
    locators: [{ pointM: [0, 0, 0], normal: [0, 0, 1], friction: 0 }],
    clamps: [{ pointM: [0, 0, 0.1], direction: [0, 0, -1], forceN: 1000, friction: 0, fixed: false }],
    loads: [{ forceN: [0, 0, 500], pointM: [0, 0, 0] }],
  }); // prettier-ignore
  expect(result).toMatchObject({ scale: 0.5, bestChange: null });
  expect(result.notes.map(({ code }) => code)).toContain('no-single-change-helps');
});

test('a change that no factor would bear is not advised', () => {
  // Clamping harder overloads the stop under the clamp: only what does not press on it may be advised.
  const input: HoldingForceInput = {
    solver, partMassKg: 0, gravity: [0, 0, -1], safetyFactor: 1, coneFacets: 8,
    locators: [{ pointM: [0, 0, 0], normal: [0, 0, 1], friction: 0.2, limitN: 5000 }],
    clamps: [
      { pointM: [0, 0, 0.1], direction: [0, 0, -1], forceN: 1000, friction: 0, fixed: false },
      { pointM: [0, 0, 0.1], direction: [0, 0, -1], forceN: 4900, friction: 0, fixed: true },
    ],
    loads: [{ forceN: [990, 0, 0], pointM: [0, 0, 0] }],
  }; // prettier-ignore
  const { scale, bestChange } = holdingForce({ ...input, ...STEPS });
  expect(scale).toBeCloseTo(0.05, 6);
  expect(bestChange).toMatchObject({ kind: 'locator-friction', index: 0, newFriction: 0.25 });
});

test('a change that makes the common factor break a stop in another case is not advised', () => {
  // Half of the first clamp stands on each stop, the fixed one on the second. More of the fixed one would hold case 0 at
  // a lower factor, and case 1 would then load the second stop with 900 N where it bears 895 N.
  const input: HoldingForceInput = {
    solver, partMassKg: 0, gravity: [0, 0, -1], safetyFactor: 1, coneFacets: 8, forceStep: 0.1,
    locators: [
      { pointM: [0, 0, 0], normal: [0, 0, 1], friction: 0.5 },
      { pointM: [0.1, 0, 0], normal: [0, 0, 1], friction: 0.5, limitN: 895 },
    ],
    clamps: [
      { name: 'middle', pointM: [0.05, 0, 0], direction: [0, 0, -1], forceN: 1000, friction: 0, fixed: false },
      { name: 'screw', pointM: [0.1, 0, 0], direction: [0, 0, -1], forceN: 200, friction: 0, fixed: true },
    ],
    loads: [
      { forceN: [700, 0, 0], pointM: [0, 0, 0] },
      { forceN: [0, 0, -90], pointM: [0.1, 0, 0] },
    ],
  }; // prettier-ignore
  const { scale, bestChange } = holdingForce(input);
  expect(scale).toBeCloseTo(1.2, 6);
  expect(bestChange).toMatchObject({ kind: 'clamp-force', name: 'middle', newForceN: 1100 });
  const stiffer = input.clamps.map((clamp) => (clamp.fixed ? { ...clamp, forceN: 220 } : clamp));
  expect(holdingForce({ ...input, clamps: stiffer, forceStep: 0 }).notes.map(({ code }) => code)).toContain(
    'no-common-factor',
  );
});

test('progress rises from nothing to the end, and the wire tells the change in its units', () => {
  const shares: number[] = [];
  const tell = (share: number): void => void shares.push(share);
  const { result } = calculate(
    'holding-force',
    {
      locators: [{ point: { value: [0, 0, 0], unit: 'mm' }, normal: [0, 0, 1], friction: 0.2 }],
      clamps: [
        {
          name: 'top',
          point: { value: [0, 0, 0], unit: 'mm' },
          direction: [0, 0, -1],
          force: { value: 10, unit: 'kN' },
        },
      ],
      loads: [{ force: { value: [1500, 0, 0], unit: 'N' }, point: { value: [0, 0, 0], unit: 'mm' } }],
      safetyFactor: 2,
      shift: { value: 5, unit: 'mm' },
    },
    { solver, onProgress: tell },
  );
  // Friction adds 0.05 to 0.2, on the locator or on the clamp alike: 3000 N/(0.25·10 kN).
  expect(result).toMatchObject({
    scale: expect.closeTo(1.5, 6) as number,
    bestChange: {
      newFriction: expect.closeTo(0.25, 9) as number,
      newForce: null,
      newPoint: null,
      newScale: expect.closeTo(1.2, 6) as number,
    },
  });
  expect(shares[0]).toBe(0);
  expect(shares.at(-1)).toBe(1);
  expect([...shares].sort((a, b) => a - b)).toEqual(shares);
});
