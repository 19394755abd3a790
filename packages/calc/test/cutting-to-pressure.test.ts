import { drillingLoads, millingLoads, tappingLoads } from '../src/cutting/cut-loads.js';
import { CUTTING_MATERIALS } from '../src/cutting/cutting-materials.js';
import { holdingForce, type HoldingForceInput } from '../src/holding/holding-force.js';
import { loadSolver } from '../src/holding/load-solver.js';
import { operationRequiredPressure } from '../src/holding/operation-required-pressure.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { cross, dot, toUnit, type Vector3 } from '../src/holding/vector.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const aFixture = (change: Partial<HoldingForceInput> = {}): HoldingForceInput => ({
  solver,
  partMassKg: 5,
  centreOfMassM: [0.1, 0.06, 0.04],
  gravity: [0, 0, -1],
  locators: [
    { pointM: [0.02, 0.02, 0], normal: [0, 0, 1], friction: 0.2 },
    { pointM: [0.18, 0.02, 0], normal: [0, 0, 1], friction: 0.2 },
    { pointM: [0.1, 0.1, 0], normal: [0, 0, 1], friction: 0.2 },
    { pointM: [0.04, 0, 0.03], normal: [0, 1, 0], friction: 0.2 },
    { pointM: [0.16, 0, 0.03], normal: [0, 1, 0], friction: 0.2 },
    { pointM: [0, 0.06, 0.03], normal: [1, 0, 0], friction: 0.2 },
  ],
  clamps: [
    { pointM: [0.06, 0.06, 0.08], direction: [0, 0, -1], forceN: 7000, friction: 0.2, fixed: false },
    { pointM: [0.14, 0.06, 0.08], direction: [0, 0, -1], forceN: 7000, friction: 0.2, fixed: false },
  ],
  loads: millingLoads({ pathM: [[0.03, 0.06, 0.08], [0.17, 0.06, 0.08]], toolAxis: [0, 0, -1], cutterDiameterM: 0.063, teeth: [{ tangentialN: 900, resultantN: 900 }], radialRatio: 0.4, axialForceN: -100, directions: 8 }),
  safetyFactor: 2,
  coneFacets: 8,
  ...change,
}); // prettier-ignore

test('materials carry a source, and say when they are unconfirmed', () => {
  expect(new Set(CUTTING_MATERIALS.map(({ id }) => id)).size).toBe(CUTTING_MATERIALS.length);
  expect(
    CUTTING_MATERIALS.every(({ source, kc11Pa, mc }) => source.length > 10 && kc11Pa > 5e8 && mc > 0 && mc < 0.5),
  ).toBe(true);
  expect(CUTTING_MATERIALS.filter(({ confirmed }) => confirmed).map(({ id }) => id)).toEqual([
    's235',
    'aluminium-wrought',
  ]);
});

test('milling loads turn around the axis, act at the teeth, and are there without their axial force too', () => {
  const input = {
    pathM: [[0, 0, 0]] as Vector3[],
    toolAxis: [0, 0, -2] as Vector3,
    cutterDiameterM: 0.1,
    teeth: [{ tangentialN: 1000, resultantN: 1000 }],
    radialRatio: 0.5,
    axialForceN: 200,
    directions: 6,
  };
  const loads = millingLoads(input);
  expect(loads.map(({ name }) => name)).toEqual([
    ...['1/0', '1/60', '1/120', '1/180', '1/240', '1/300'],
    ...['1/0/no-axial', '1/60/no-axial', '1/120/no-axial', '1/180/no-axial', '1/240/no-axial', '1/300/no-axial'],
  ]);
  const corner = 1 / Math.cos(Math.PI / 6);
  for (const { forceN, momentNm, name } of loads) {
    const axialN = name?.endsWith('no-axial') ? 0 : 200;
    expect(forceN[2]).toBeCloseTo(-axialN, 9);
    expect(Math.hypot(forceN[0], forceN[1])).toBeCloseTo(corner * 1000 * Math.hypot(1, 0.5), 9);
    // 1000 N at 50 mm turn to the right as seen from the spindle; the axial force tips about the middle.
    expect(momentNm?.[2]).toBeCloseTo(-50, 9);
    expect(Math.hypot(Number(momentNm?.[0]), Number(momentNm?.[1]))).toBeCloseTo(corner * 0.05 * axialN, 9);
  }
  const sum = loads.reduce((total, { forceN }) => total + forceN[0] + forceN[1], 0);
  expect(sum).toBeCloseTo(0, 9);
  const part = millingLoads({ ...input, teeth: [...input.teeth, { tangentialN: 500, resultantN: 500 }] });
  expect(part).toHaveLength(24);
  expect(part[12]).toMatchObject({ name: '1/0/part', forceN: [expect.anything(), expect.anything(), -100] });
  expect(millingLoads({ ...input, axialForceN: 0 })).toHaveLength(6);
  const idle = millingLoads({ ...input, teeth: [{ tangentialN: 0, resultantN: 0 }] });
  for (const { forceN, momentNm } of idle) expect(Math.hypot(...forceN, ...(momentNm ?? []))).toBe(0);
  expect(() => millingLoads({ ...input, pathM: [] })).toThrow('at least one point');
  expect(() => millingLoads({ ...input, directions: 3 })).toThrow('four directions');
});

test('points between two others are left out, and so is what is there twice', () => {
  const [a, b, c]: Vector3[] = [
    [0, 0, 0],
    [0.1, 0, 0],
    [0.04, 0, 0],
  ];
  const holes = [a, c, b, a, [0.04, 0.01, 0]] as Vector3[];
  const loads = drillingLoads({ holesM: holes, toolAxis: [0, 0, -1], thrustN: 1, torqueNm: 1, breakthroughRatio: 0 });
  expect(new Set(loads.map(({ name }) => name?.split('/')[0]))).toEqual(new Set(['1', '3', '5']));
});

test('drilling pushes in and pulls when it breaks through', () => {
  const [pushing, pulling, ...plain] = drillingLoads({
    holesM: [[0, 0, 0]],
    toolAxis: [0, 0, -1],
    thrustN: 1000,
    torqueNm: 10,
    breakthroughRatio: 0.3,
  });
  expect(pushing).toMatchObject({ forceN: [0, 0, -1000], momentNm: [0, 0, -10] });
  expect(pulling?.forceN[2]).toBe(300);
  // A torque that helps to hold is not relied on.
  expect(plain.map(({ momentNm }) => momentNm)).toEqual([undefined, undefined]);
  expect(() =>
    drillingLoads({ holesM: [], toolAxis: [0, 0, -1], thrustN: 1, torqueNm: 1, breakthroughRatio: 0 }),
  ).toThrow('at least one hole');
});

test('tapping turns one way going in and the other coming out', () => {
  const loads = tappingLoads({
    holesM: [
      [0, 0, 0],
      [0.1, 0, 0],
    ],
    toolAxis: [0, 0, -2],
    torqueNm: 5,
    axialForceN: 40,
  });
  expect(loads.slice(0, 6).map(({ name }) => name)).toEqual(
    ['in', 'out'].flatMap((way) => [`1/${way}`, `1/${way}/leading`, `1/${way}/no-axial`]),
  );
  expect(loads[0]).toMatchObject({ forceN: [0, 0, -40], momentNm: [0, 0, -5] });
  expect(loads[1]?.forceN[2]).toBe(40);
  expect(loads[2]).toMatchObject({ forceN: [0, 0, 0], momentNm: [0, 0, -5] });
  expect([loads[9]?.pointM, loads[9]?.momentNm?.[2]]).toEqual([[0.1, 0, 0], 5]);
  expect(loads[9]?.forceN[2]).toBe(40);
  const straight = tappingLoads({ holesM: [[0, 0, 0]], toolAxis: [0, 0, -1], torqueNm: 5, axialForceN: 0 });
  expect(straight.map(({ name }) => name)).toEqual(['1/in', '1/out']);
  expect(() => tappingLoads({ holesM: [], toolAxis: [0, 0, -1], torqueNm: 1, axialForceN: 0 })).toThrow(
    'at least one hole',
  );
});

describe('holding force', () => {
  test('figures so small that they are nothing are nothing, and no unit for the rest', () => {
    const small = Number.MIN_VALUE;
    const input = aFixture({ partMassKg: 0 });
    expect(holdingForce({ ...input, safetyFactor: small }).scale).toBeCloseTo(Number(holdingForce({ ...input, safetyFactor: 0 }).scale), 9); // prettier-ignore
    const weak = input.clamps.map((clamp) => ({ ...clamp, forceN: small }));
    expect(() => holdingForce({ ...input, clamps: weak })).not.toThrow();
    const near = { ...input, locators: input.locators.map((one) => ({ ...one, pointM: [small, 0, 0] as const })) };
    const at = [0, 0, 0] as const;
    const places = { clamps: near.clamps.map((one) => ({ ...one, pointM: at })), loads: near.loads.map((one) => ({ ...one, pointM: at })) }; // prettier-ignore
    expect(() => holdingForce({ ...near, ...places })).not.toThrow();
  });

  test('the contacts shown balance the governing load', () => {
    const input = aFixture();
    const { contacts, governingCase, scale } = holdingForce(input);
    const load = input.loads[governingCase];
    if (!contacts || !load || scale === null) throw new Error('no contacts');
    const force = [0, 1, 2].map(
      (axis) =>
        contacts.reduce((sum, { forceN }) => sum + Number(forceN[axis]), 0) +
        2 * Number(load.forceN[axis]) +
        (axis === 2 ? -5 * 9.80665 : 0),
    );
    for (const rest of force) expect(Math.abs(rest)).toBeLessThan(1e-3);
    expect(contacts.some(({ atLimit }) => atLimit !== 'none')).toBe(true);
    for (const contact of contacts) expect(contact.normalN).toBeGreaterThanOrEqual(-1e-6);
  });

  test('more facets ask for less, more safety for more', () => {
    const scaleOf = (change: Partial<HoldingForceInput>): number => Number(holdingForce(aFixture(change)).scale);
    expect(scaleOf({ coneFacets: 16 })).toBeLessThanOrEqual(scaleOf({ coneFacets: 8 }));
    expect(scaleOf({ coneFacets: 8 })).toBeLessThanOrEqual(scaleOf({ coneFacets: 4 }) * (1 + 1e-9));
    expect(scaleOf({ safetyFactor: 3 })).toBeGreaterThan(scaleOf({ safetyFactor: 2 }));
  });

  test('a locator that breaks before the clamps are tight enough: no factor', () => {
    const locators = aFixture().locators.map((locator) => ({ ...locator, limitN: 1000 }));
    const result = holdingForce(aFixture({ locators }));
    expect(result).toMatchObject({ scale: null, held: false, contacts: null });
    expect(result.notes.map(({ code }) => code)).toContain('case-cannot-be-held');
  });

  test('two cases that each hold, but at no factor together', () => {
    // One needs a hard clamp; the other lifts the part off its side locator when clamped hard, as the locator is limited.
    const result = holdingForce({
      solver, partMassKg: 0, gravity: [0, 0, -1], safetyFactor: 1, coneFacets: 8,
      locators: [{ pointM: [0, 0, 0], normal: [0, 0, 1], friction: 0.5, limitN: 1500 }],
      clamps: [{ pointM: [0, 0, 0.1], direction: [0, 0, -1], forceN: 1000, friction: 0, fixed: false }],
      loads: [
        { name: 'side', forceN: [700, 0, 0], pointM: [0, 0, 0] },
        { name: 'down', forceN: [0, 0, -1000], pointM: [0, 0, 0] },
      ],
    }); // prettier-ignore
    expect(result).toMatchObject({ scale: null, governingCase: 0 });
    expect(result.caseScales[0]).toBeGreaterThan(1.39);
    expect(result.caseScales[1]).toBe(0);
    expect(result.notes).toContainEqual({ code: 'no-common-factor', parameters: { case: 1, needs: 0 } });
    const wide = holdingForce({
      ...aFixture({ safetyFactor: 0 }),
      locators: aFixture().locators.map((locator) => ({ ...locator, limitN: 1e6 })),
    });
    expect(wide.scale).toBe(0);
  });

  test('fixed clamps hold without the circuit; no clamps at all; a limit that is reached', () => {
    const fixed = holdingForce(
      aFixture({ clamps: aFixture().clamps.map((clamp) => ({ ...clamp, forceN: 50_000, fixed: true })) }),
    );
    expect(fixed).toMatchObject({ scale: 0, held: true });
    expect(fixed.contacts?.filter(({ kind }) => kind === 'clamp').map(({ normalN }) => normalN)).toEqual([
      50_000, 50_000,
    ]);
    const resting = holdingForce(aFixture({ clamps: [], loads: [{ forceN: [0, 0, -10], pointM: [0.1, 0.05, 0.08] }] }));
    expect(resting).toMatchObject({ scale: 0, held: true });
    const limited = aFixture().locators.map((locator) => ({ ...locator, limitN: 25_000 }));
    expect(holdingForce(aFixture({ locators: limited })).held).toBe(true);
    expect(() => holdingForce(aFixture({ centreOfMassM: undefined }))).toThrow('a centre of mass');
    expect(() => holdingForce(aFixture({ loads: [] }))).toThrow('a load case');
  });

  test('a locator that carries all it may is told so', () => {
    const { contacts } = holdingForce({
      solver, partMassKg: 0, gravity: [0, 0, -1], safetyFactor: 2, coneFacets: 8,
      // Pushed sideways against the stop, which bears 1500 N; what is left of the push is for the friction of the clamp.
      locators: [
        { pointM: [0, 0, 0], normal: [0, 0, 1], friction: 0.25 },
        { pointM: [0.1, 0, 0], normal: [-1, 0, 0], friction: 0, limitN: 1500 },
      ],
      clamps: [{ pointM: [0, 0, 0], direction: [0, 0, -1], forceN: 1000, friction: 0, fixed: false }],
      loads: [{ forceN: [1000, 0, 0], pointM: [0, 0, 0] }],
    }); // prettier-ignore
    expect(contacts?.map(({ atLimit }) => atLimit)).toEqual(['sliding', 'normal-limit', 'none']);
    expect(contacts?.[1]?.normalN).toBeCloseTo(1500, 3);
  });

  test('nothing to hold needs nothing', () => {
    const idle = aFixture({ partMassKg: 0, loads: [{ forceN: [0, 0, 0], pointM: [0, 0, 0] }], forceStep: 0.1 });
    expect(holdingForce(idle)).toMatchObject({ scale: 0, held: true, bestChange: null });
    expect(holdingForce(idle).notes.map(({ code }) => code)).not.toContain('no-single-change-helps');
  });

  test('a solver that cannot decide is not taken for an answer', () => {
    const failing: LinearProgramSolver = {
      withProgram: (_program, work) =>
        work({
          solve: () => ({ status: 'failed', reason: 'x' }),
          setRowBounds: () => undefined,
          setColumnBounds: () => undefined,
        }),
    };
    expect(() => holdingForce(aFixture({ solver: failing }))).toThrow('a load case that the solver can decide');
  });
});

test('from cuts to pressure', () => {
  const holding = aFixture();
  const rating = { ratedForceN: 14_000, ratedPressurePa: 175e5 };
  const found = operationRequiredPressure({ holding, ratings: [rating, rating] });
  expect(found.requiredPressurePa).toBeCloseTo((Number(found.holding.scale) * 7000 * 175e5) / 14_000, 3);
  expect(found.governingClamp).toBe(0);
  const fixed = { ...holding, clamps: holding.clamps.map((clamp) => ({ ...clamp, forceN: 50_000, fixed: true })) };
  expect(operationRequiredPressure({ holding: fixed, ratings: [null, null] })).toMatchObject({
    requiredPressurePa: 0,
    governingClamp: null,
  });
  const weak = aFixture({ locators: holding.locators.map((locator) => ({ ...locator, limitN: 1000 })) });
  expect(operationRequiredPressure({ holding: weak, ratings: [rating, rating] })).toMatchObject({
    requiredPressurePa: null,
    governingClamp: null,
  });
  expect(() => operationRequiredPressure({ holding, ratings: [rating] })).toThrow('one rating for each clamp');
  expect(() => operationRequiredPressure({ holding, ratings: [rating, null] })).toThrow('none for a fixed one');
});

test('tangents are square to the normal, in the order defined', () => {
  const n = toUnit([0, 3, 4]);
  expect(dot(cross([1, 0, 0], n), n)).toBeCloseTo(0, 12);
  expect(toUnit([0, 0, 5])).toEqual([0, 0, 1]);
});
