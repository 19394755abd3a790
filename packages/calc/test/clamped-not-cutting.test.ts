import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { CutFigures, HoldingElement } from '../src/holding/required-of-cut.types.js';
import type { Vector3 } from '../src/holding/vector.js';
import { clamp, drilling, locators, milling, onCircle, STILL, support } from './cut-builder.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** A drill far out, over a support of its own: the pads cannot take its thrust. */
const OUT: Vector3 = [0.2, 0, 0.04];
const far = (change: Partial<HoldingElement> = {}) => ({
  cut: drilling({ pointsM: [OUT], breakthroughRatio: 0 }),
  elements: [locators(), support({ places: [{ pointM: [0.2, 0, 0], direction: [0, 0, 1] }], ...change }), clamp()],
  solver,
});
const needs = (change: Partial<HoldingElement> = {}): number => Number(requiredOfCut(far(change)).requiredPressurePa);

test('a support carries what it carries at the pressure that is there, and nothing below the one at which it locks', () => {
  const strong = needs({ ratedForceN: 8000, ratedPressurePa: 50e5 });
  const byPressure = needs({ ratedForceN: 8000, ratedPressurePa: 1000e5 });
  expect(byPressure).toBeGreaterThan(1.05 * strong);
  // At its own pressure it carries its share of what the drill presses beyond the pads.
  const { contacts, requiredPressurePa } = requiredOfCut(far({ ratedForceN: 8000, ratedPressurePa: 1000e5 }));
  const carried = contacts.find(({ elementId }) => elementId === 'support');
  expect(Number(carried?.normalN)).toBeLessThanOrEqual((8000 * Number(requiredPressurePa)) / 1000e5 + 1e-3);
  expect(needs({ ratedForceN: 4000, ratedPressurePa: 1000e5 })).toBeGreaterThanOrEqual(byPressure);
  expect(needs({ leastWorkingPressurePa: 240e5 })).toBeCloseTo(240e5, -1);
  expect(needs({ leastWorkingPressurePa: 40e5 })).toBeGreaterThanOrEqual(needs() - 1);
  const unlocked = requiredOfCut(far({ leastWorkingPressurePa: 240e5 }));
  expect(unlocked).toMatchObject({ status: 'held', governingCase: 'clamped/1' });
});

test('what a support bears: by hand, clamp and thrust straight above it; above the required pressure, the clamp', () => {
  // One clamp and one drill over one support amid three pads: a stiff workpiece may rest on it alone.
  const cut = drilling({ breakthroughRatio: 0 });
  const found = requiredOfCut({ cut, elements: [locators(), support(), clamp()], solver });
  const pressed = (Number(found.requiredPressurePa) / 250e5) * 8000 + 2 * Number(found.forces?.thrustN);
  expect(found.supportLoads).toHaveLength(1);
  const [load] = found.supportLoads;
  expect(load).toMatchObject({ elementId: 'support', atPressurePa: found.requiredPressurePa });
  expect(Number(load?.loadN) / pressed).toBeCloseTo(1, 2);
  expect(Number(load?.loadPerPaN) / (8000 / 250e5)).toBeCloseTo(1, 2);
  const deeper = requiredOfCut({ cut: { ...cut, feedM: 0.0003 }, elements: [locators(), support(), clamp()], solver });
  expect(Number(deeper.supportLoads[0]?.loadN)).toBeGreaterThan(Number(load?.loadN));
  // A stop at its side has no share in it.
  const stop = locators({
    id: 'stop',
    quantity: 1,
    places: [{ pointM: [-0.1, 0, 0.02], direction: [1, 0, 0] }],
    frictionCoefficient: 0,
  });
  const stopped = requiredOfCut({ cut, elements: [locators(), stop, support(), clamp()], solver });
  expect(Number(stopped.supportLoads[0]?.loadN) / Number(load?.loadN)).toBeCloseTo(1, 1);
  // Two alike share alike, and the most of an element's pieces is told.
  const pair = support({
    quantity: 2,
    places: [-1, 1].map((x) => ({ pointM: [0.03 * x, 0, 0], direction: [0, 0, 1] })),
  });
  const shared = requiredOfCut({ cut, elements: [locators(), pair, clamp()], solver });
  expect(shared.supportLoads).toHaveLength(1);
  expect(Number(shared.supportLoads[0]?.loadN)).toBeLessThan(Number(load?.loadN));
});

test('clamped, it stands in every direction that its pallet turns it to, at all that the clamps are rated for', () => {
  // 1000 N press 20 mm outside of the pads' edge: 588 N of weight, 40 mm inside of it, hold that down; the 416 N of it that are left at 45° do not.
  const stop = locators({
    ...{ id: 'stop', quantity: 1, frictionCoefficient: 0 },
    places: [{ pointM: [-0.1, 0, 0], direction: [1, 0, 0] }],
  });
  const beside = clamp({
    ratedForceN: 1000,
    frictionCoefficient: 0,
    places: [{ pointM: [-0.06, 0, 0.04], direction: [0, 0, -1] }],
  });
  const turnedTo = (...otherGravities: Vector3[]) =>
    requiredOfCut({
      cut: drilling({ ...STILL, kc11Pa: 1, partMassKg: 60, pointsM: [[0.02, 0, 0.04]], otherGravities }),
      elements: [locators(), stop, beside],
      solver,
    });
  expect(turnedTo()).toMatchObject({ status: 'held' });
  expect(turnedTo([-0.1, 0, -1])).toMatchObject({ status: 'held' });
  expect(turnedTo([-0.1, 0, -1], [-1, 0, -1])).toMatchObject({ status: 'not-held', governingCase: 'turned/3' });
});

test('each step of clamping stands by itself: a workpiece that tips on its pads is not held, whatever comes after', () => {
  const over = clamp({ id: 'over', name: 'Over the pads' });
  const beside = clamp({
    id: 'beside',
    name: 'Beside the pads',
    places: [{ pointM: [-0.06, 0, 0.04], direction: [0, 0, -1] }],
  });
  const cut = drilling({ pointsM: [[0.01, 0, 0.04]] });
  const inOrder = (...elements: HoldingElement[]) =>
    requiredOfCut({ cut, elements: [locators(), ...elements], solver });
  expect(inOrder(over)).toMatchObject({ status: 'held' });
  // It presses outside of the pads: alone it tips the workpiece, after the first it is held down.
  expect(inOrder(beside, over)).toMatchObject({
    status: 'not-held',
    governingCase: 'clamped/1',
    requiredPressurePa: null,
  });
  expect(inOrder(over, beside)).toMatchObject({ status: 'held' });
  // A heavy workpiece is not tipped by a clamp that does not reach its rating by far, and is by one that does.
  const heavy = (ratedForceN: number) =>
    requiredOfCut({
      cut: { ...cut, partMassKg: 100, centreOfMassM: [0, 0, 0.02] },
      elements: [locators(), { ...beside, ratedForceN }, over],
      solver,
    });
  expect(heavy(200)).toMatchObject({ status: 'held' });
  expect(heavy(8000)).toMatchObject({ status: 'not-held', governingCase: 'clamped/1' });
});

test('a pad that bears less than a step of clamping puts on it is not held by what later steps take off it again', () => {
  const over = clamp({
    id: 'over',
    frictionCoefficient: 0,
    places: [{ pointM: [0.08, 0, 0.04], direction: [0, 0, -1] }],
  });
  // Beyond the other two pads: it presses on them, and lifts a sixth of its force off the first.
  const beyond = clamp({
    id: 'beyond',
    frictionCoefficient: 0,
    places: [{ pointM: [-0.06, 0, 0.04], direction: [0, 0, -1] }],
  });
  const others = locators({ quantity: 2, places: locators().places.slice(1) });
  const first = (forceLimitN: number | null) =>
    locators({ id: 'first', quantity: 1, places: locators().places.slice(0, 1), forceLimitN });
  const held = (forceLimitN: number | null) =>
    requiredOfCut({
      cut: drilling({ breakthroughRatio: 0, thrustFactor: 0 }),
      elements: [first(forceLimitN), others, over, beyond],
      solver,
    });
  const forceN = (Number(held(null).requiredPressurePa) / 250e5) * 8000;
  expect(held(1.05 * forceN)).toMatchObject({ status: 'held' });
  expect(held(0.92 * forceN)).toMatchObject({ status: 'not-held', governingCase: 'clamped/1' });
});

test('what only its weight keeps on its pads: what its supports bear at another pressure is not known', () => {
  const beside = clamp({ ratedForceN: 200, places: [{ pointM: [-0.06, 0, 0.04], direction: [0, 0, -1] }] });
  const cut = drilling({ partMassKg: 100, feedM: 1e-6 });
  const { status, supportLoads } = requiredOfCut({ cut, elements: [locators(), support(), beside], solver });
  expect(status).toBe('held');
  expect(supportLoads).toMatchObject([{ elementId: 'support', loadN: null, loadPerPaN: null }]);
});

test('a workpiece that slides off whatever presses is not held from the first step on', () => {
  const smooth = [locators({ frictionCoefficient: 0 }), clamp({ frictionCoefficient: 0 })];
  const cut = drilling({ gravity: [1, 0, 0], partMassKg: 5 });
  expect(requiredOfCut({ cut, elements: smooth, solver })).toMatchObject({
    status: 'not-held',
    governingCase: 'clamped/1',
  });
});

test('what the first clamp must hold by itself can be what governs', () => {
  // A workpiece that hangs on a wall of pads, held by friction; the drill hardly loads it.
  const wall = locators({
    places: [0, 2, 4].map((third) => ({ pointM: onCircle((third * Math.PI) / 3), direction: [0, 0, 1] })),
  });
  const second = clamp({ id: 'second' });
  const cut = drilling({ feedM: 1e-6, gravity: [1, 0, 0], partMassKg: 20, centreOfMassM: [0, 0, 0.001] });
  const alone = requiredOfCut({ cut, elements: [wall, clamp()], solver });
  const both = requiredOfCut({ cut, elements: [wall, clamp(), second], solver });
  expect(both).toMatchObject({ status: 'held', governingCase: 'clamped/1' });
  // Friction on both faces: 2·μ·F carries the weight.
  expect((Number(both.requiredPressurePa) / 250e5) * 8000).toBeGreaterThanOrEqual((20 * 9.80665) / 0.4 - 1);
  expect(Number(both.requiredPressurePa)).toBeGreaterThan(0.9 * Number(alone.requiredPressurePa));
});

test('clamps of different ratings press at one pressure', () => {
  const strong = clamp({ ratedForceN: 4000 });
  const other = clamp({ id: 'other', ratedForceN: 2000, ratedPressurePa: 125e5 });
  const cut = drilling();
  const alike = requiredOfCut({ cut, elements: [locators(), strong, { ...strong, id: 'other' }], solver });
  const mixed = requiredOfCut({ cut, elements: [locators(), strong, other], solver });
  expect(Number(mixed.requiredPressurePa) / Number(alike.requiredPressurePa)).toBeCloseTo(1, 8);
});

test('a worse input never asks for less: heavier cut, less grip, more safety, weaker or later supports, other directions of the weight', () => {
  const cut = milling({ axialDepthM: 0.001, partMassKg: 5 });
  const askedFor = (change: Partial<CutFigures>, ofSupport: Partial<HoldingElement> = {}, friction = 0.2): number => {
    const elements = [locators(), support(ofSupport), clamp()].map((element) => ({
      ...element,
      frictionCoefficient: friction,
    }));
    const { status, requiredPressurePa } = requiredOfCut({ cut: { ...cut, ...change }, elements, solver });
    expect(status).toMatch(/held/);
    return requiredPressurePa ?? Infinity;
  };
  const before = askedFor({});
  const worse = [
    askedFor({ axialDepthM: 0.0013 }),
    askedFor({ feedM: 0.00025 }),
    askedFor({ radialRatio: 0.6 }),
    askedFor({ axialForceN: -400 }),
    askedFor({ wear: 1.5 }),
    askedFor({ safetyFactor: 2.5 }),
    askedFor({}, {}, 0.15),
    askedFor({}, { ratedForceN: 1000 }),
    askedFor({}, { ratedPressurePa: 500e5 }),
    askedFor({}, { leastWorkingPressurePa: 200e5 }),
    askedFor({ ...STILL, otherGravities: [[1, 0, 0]] }),
  ];
  for (const pressurePa of worse) expect(pressurePa).toBeGreaterThanOrEqual(before * (1 - 1e-8));
});
