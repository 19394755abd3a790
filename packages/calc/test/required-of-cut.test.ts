import { drillingForce } from '../src/cutting/drilling-force.js';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { CutFigures, HoldingElement } from '../src/holding/required-of-cut.types.js';
import type { Vector3 } from '../src/holding/vector.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const NO_FIGURES = {
  kc11Pa: null,
  mc: null,
  kcPa: null,
  diameterM: null,
  teeth: null,
  feedM: null,
  axialDepthM: null,
  radialWidthM: null,
  engagement: null,
  leadAngleRad: null,
  pitchM: null,
  pointAngleRad: null,
  wear: null,
  radialRatio: null,
  axialForceN: null,
  directions: null,
  thrustFactor: null,
  breakthroughRatio: null,
} as const;
const PART = {
  toolAxis: [0, 0, -1] as Vector3,
  partMassKg: 0,
  centreOfMassM: [0, 0, 0.02] as Vector3,
  gravity: [0, 0, -1] as Vector3,
  safetyFactor: 2,
  coneFacets: 16,
};
const drilling = (change: Partial<CutFigures> = {}): CutFigures => ({
  ...NO_FIGURES,
  ...PART,
  method: 'drilling',
  kc11Pa: 2.5e9,
  mc: 0.26,
  diameterM: 0.0085,
  feedM: 0.00015,
  pointAngleRad: (118 * Math.PI) / 180,
  thrustFactor: 1,
  breakthroughRatio: 0.3,
  pointsM: [[0, 0, 0.04]],
  ...change,
});
const milling = (change: Partial<CutFigures> = {}): CutFigures => ({
  ...NO_FIGURES,
  ...PART,
  method: 'milling',
  kc11Pa: 1.16e9,
  mc: 0.26,
  diameterM: 0.063,
  teeth: 6,
  feedM: 0.0002,
  axialDepthM: 0.002,
  radialWidthM: 0.04,
  engagement: 'centred',
  leadAngleRad: Math.PI / 4,
  wear: 1.3,
  radialRatio: 0.4,
  axialForceN: -100,
  directions: 8,
  pointsM: [
    [-0.03, 0, 0.04],
    [0.03, 0, 0.04],
  ],
  ...change,
});

const RADIUS = 0.08;
const onCircle = (angle: number): Vector3 => [RADIUS * Math.cos(angle), RADIUS * Math.sin(angle), 0];
const locators = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  id: 'rest',
  name: 'Rest pads',
  kind: 'locator',
  quantity: 3,
  ratedForceN: null,
  ratedPressurePa: null,
  leastWorkingPressurePa: null,
  frictionCoefficient: 0.2,
  forceLimitN: null,
  places: [0, 2, 4].map((third) => ({ pointM: onCircle((third * Math.PI) / 3), direction: [0, 0, 1] as Vector3 })),
  ...change,
});
const clamp = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  id: 'clamp',
  name: 'Clamp',
  kind: 'clamp',
  quantity: 1,
  ratedForceN: 8000,
  ratedPressurePa: 250e5,
  leastWorkingPressurePa: null,
  frictionCoefficient: 0.2,
  forceLimitN: null,
  places: [{ pointM: [0, 0, 0.04], direction: [0, 0, -1] }],
  ...change,
});

const support = (change: Partial<HoldingElement> = {}): HoldingElement => ({
  ...locators(),
  id: 'support',
  name: 'Support',
  kind: 'support',
  quantity: 1,
  ratedForceN: 4000,
  ratedPressurePa: 250e5,
  leastWorkingPressurePa: 0,
  places: [{ pointM: [0, 0, 0], direction: [0, 0, 1] }],
  ...change,
});

test('one clamp in the middle of three rest pads: by hand, the pull and the friction that the torque asks of the pads', () => {
  const cut = drilling();
  const { thrustN, torqueNm } = drillingForce({
    kc11Pa: 2.5e9,
    mc: 0.26,
    diameterM: 0.0085,
    feedM: 0.00015,
    pointAngleRad: (118 * Math.PI) / 180,
    thrustFactor: 1,
    speedHz: 0,
    efficiency: 1,
  });
  const found = requiredOfCut({ cut, elements: [locators(), clamp()], solver });
  // Statics: the clamp presses through the middle, so that only the pads hold the torque, and only with what is left
  // of its force when the drill pulls: F = S·(0.3·thrust + torque/(μ·r)).
  const forceN = 2 * (0.3 * thrustN + torqueNm / (0.2 * RADIUS));
  expect(Number(found.requiredPressurePa) / ((forceN / 8000) * 250e5)).toBeCloseTo(1, 2);
  expect(found).toMatchObject({
    status: 'held',
    // Going in, coming through, each with and without its torque; and clamped, not cutting.
    cases: 5,
    governingCase: '1/through',
    governingClamp: { elementId: 'clamp', piece: 1 },
    forces: { thrustN, torqueNm, tangentialN: null },
    missing: [],
    refused: null,
  });
  expect(found.contacts).toHaveLength(4);
  const pads = found.contacts.filter(({ kind }) => kind === 'locator');
  expect(pads.map(({ piece }) => piece)).toEqual([1, 2, 3]);
  expect(pads.reduce((sum, { normalN }) => sum + normalN, 0)).toBeCloseTo(forceN - 0.6 * thrustN, -1);
  expect(found.bestChange?.gainPa).toBeGreaterThan(0);
});

test('milling and tapping are held, by more pressure the deeper they cut', () => {
  const elements = [locators(), clamp()];
  const shallow = requiredOfCut({ cut: milling(), elements, solver });
  const deep = requiredOfCut({ cut: milling({ axialDepthM: 0.004 }), elements, solver });
  expect(shallow).toMatchObject({ status: 'held', forces: { thrustN: null } });
  // Two points, 24 directions at least, with and without the axial force, at every moment of a turn that counts.
  expect((shallow.cases - 1) % (2 * 24 * 2)).toBe(0);
  expect(shallow.forces?.torqueNm).toBeCloseTo(Number(shallow.forces?.tangentialN) * 0.0315, 9);
  expect(shallow.governingCase).toMatch(/^[12]\/\d+/);
  const more = requiredOfCut({ cut: milling({ directions: 48 }), elements, solver });
  expect(more.cases - 1).toBe(2 * (shallow.cases - 1));
  expect(Number(more.requiredPressurePa) / Number(shallow.requiredPressurePa)).toBeLessThan(1.01);
  expect(Number(deep.requiredPressurePa)).toBeGreaterThan(1.8 * Number(shallow.requiredPressurePa));
  const cut: CutFigures = {
    ...drilling(),
    ...NO_FIGURES,
    method: 'tapping',
    kcPa: 3e9,
    pitchM: 0.0015,
    diameterM: 0.01,
    wear: 1.5,
    axialForceN: 50,
  };
  expect(requiredOfCut({ cut, elements, solver })).toMatchObject({
    status: 'held',
    cases: 5,
    forces: { thrustN: null },
  });
});

test('a locator carries no more than its limit, a support no more than its load, in proportion to the pressure', () => {
  const held = requiredOfCut({
    cut: drilling(),
    elements: [locators(), support({ ratedForceN: 400 }), clamp()],
    solver,
  });
  const share = Number(held.requiredPressurePa) / 250e5;
  expect(held.contacts.find(({ elementId }) => elementId === 'support')?.normalN).toBeLessThanOrEqual(
    400 * Math.min(1, share) + 1e-6,
  );
  const frail = requiredOfCut({ cut: drilling(), elements: [locators({ forceLimitN: 100 }), clamp()], solver });
  expect(frail).toMatchObject({ status: 'not-held', requiredPressurePa: null, contacts: [], bestChange: null });
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

test('what a support bears: by hand, its share of clamp and thrust; above the required pressure, that of the clamp', () => {
  // One clamp and one drill over one support amid three pads: four contacts, each a quarter of what presses.
  const cut = drilling({ breakthroughRatio: 0 });
  const found = requiredOfCut({ cut, elements: [locators(), support(), clamp()], solver });
  const pressed = (Number(found.requiredPressurePa) / 250e5) * 8000 + 2 * Number(found.forces?.thrustN);
  expect(found.supportLoads).toHaveLength(1);
  const [load] = found.supportLoads;
  expect(load).toMatchObject({ elementId: 'support', atPressurePa: found.requiredPressurePa });
  expect(Number(load?.loadN) / (pressed / 4)).toBeCloseTo(1, 2);
  expect(Number(load?.loadPerPaN) / (8000 / 250e5 / 4)).toBeCloseTo(1, 2);
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
  const one = clamp({ ratedForceN: 4000 });
  const other = clamp({ id: 'other', ratedForceN: 2000, ratedPressurePa: 125e5 });
  const cut = drilling();
  const alike = requiredOfCut({ cut, elements: [locators(), one, { ...one, id: 'other' }], solver });
  const mixed = requiredOfCut({ cut, elements: [locators(), one, other], solver });
  expect(Number(mixed.requiredPressurePa) / Number(alike.requiredPressurePa)).toBeCloseTo(1, 8);
});

test('how much more may be required: by hand, of one clamp amid three pads, by a harder material and by less friction', () => {
  const cut = drilling({ breakthroughRatio: 0, thrustFactor: 0 });
  const found = requiredOfCut({ cut, elements: [locators(), clamp()], solver });
  const pressurePa = Number(found.requiredPressurePa);
  // F = S·torque/(μ·r): as the specific force, and as one over the friction.
  expect(found.spread).toMatchObject({ specificForceRatio: 0.2, frictionRatio: 0.2 });
  expect(Number(found.spread?.specificForcePa) / pressurePa).toBeCloseTo(0.2, 6);
  expect(Number(found.spread?.frictionPa) / pressurePa).toBeCloseTo(1 / 0.8 - 1, 4);
  const said = { ...cut, specificForceSpreadRatio: 0.1, frictionSpreadRatio: 0 };
  const surer = requiredOfCut({ cut: said, elements: [locators(), clamp()], solver });
  expect(Number(surer.spread?.specificForcePa) / pressurePa).toBeCloseTo(0.1, 6);
  expect(surer.spread).toMatchObject({ frictionRatio: 0, frictionPa: 0 });
  // Tapping goes by its own specific force.
  const tapping: CutFigures = {
    ...cut,
    kc11Pa: null,
    method: 'tapping',
    kcPa: 3e9,
    pitchM: 0.0015,
    diameterM: 0.01,
    wear: 1,
    axialForceN: 0,
  };
  const tapped = requiredOfCut({ cut: tapping, elements: [locators(), clamp()], solver });
  expect(Number(tapped.spread?.specificForcePa) / Number(tapped.requiredPressurePa)).toBeCloseTo(0.2, 6);
  // Where nothing holds at the far end, the whole of the pressure is in question: the clamp may press no harder than the pads bear.
  const bears = (((1.1 * pressurePa) / 250e5) * 8000) / 3;
  const frail = requiredOfCut({ cut, elements: [locators({ forceLimitN: bears }), clamp()], solver });
  expect(frail.status).toBe('held');
  expect(Number(frail.spread?.specificForcePa) / pressurePa).toBeCloseTo(1, 6);
});

test('a pallet that turns: the weight is held in every direction that is said, cutting and not', () => {
  const heavy = drilling({ partMassKg: 30, centreOfMassM: [0, 0, 0.02], feedM: 1e-6 });
  const elements = [locators(), clamp()];
  const flat = requiredOfCut({ cut: heavy, elements, solver });
  const turned = requiredOfCut({
    cut: {
      ...heavy,
      otherGravities: [
        [1, 0, 0],
        [0, 0, 1],
      ],
    },
    elements,
    solver,
  });
  expect(turned.cases - 1).toBe(3 * (flat.cases - 1) + 2);
  expect(turned.governingCase).toMatch(/weight|turned/);
  // Upside down and on its side: friction on both faces carries 2·μ·F less the weight, or the clamp carries it all.
  expect((Number(turned.requiredPressurePa) / 250e5) * 8000).toBeGreaterThanOrEqual((30 * 9.80665) / 0.4 - 1);
  expect(Number(turned.requiredPressurePa)).toBeGreaterThan(Number(flat.requiredPressurePa));
  const slippery = requiredOfCut({
    cut: { ...heavy, otherGravities: [[1, 0, 0]] },
    elements: [locators({ frictionCoefficient: 0 }), clamp({ frictionCoefficient: 0 })],
    solver,
  });
  expect(slippery.status).toBe('not-held');
});

test('friction above 0.3 is cautioned', () => {
  const notesOf = (frictionCoefficient: number) =>
    requiredOfCut({ cut: drilling(), elements: [locators(), clamp({ frictionCoefficient })], solver }).notes.map(
      ({ code }) => code,
    );
  expect(notesOf(0.3)).not.toContain('friction-needs-a-test');
  expect(notesOf(0.35)).toContain('friction-needs-a-test');
});

test('where the pads hardly grip, more grip of a pad helps more than a stronger one of eight clamps', () => {
  const places = Array(8).fill(clamp().places[0]) as HoldingElement['places'];
  const elements = [locators({ frictionCoefficient: 0.02 }), clamp({ quantity: 8, places })];
  const { bestChange } = requiredOfCut({ cut: drilling(), elements, solver });
  expect(bestChange).toMatchObject({ kind: 'locator-friction', elementId: 'rest' });
  expect(bestChange?.gainPa).toBeGreaterThan(0);
});

test('a load that no clamp force can hold is said to be so', () => {
  const slippery = [locators({ frictionCoefficient: 0 }), clamp({ frictionCoefficient: 0 })];
  expect(requiredOfCut({ cut: milling(), elements: slippery, solver })).toMatchObject({
    status: 'not-held',
    governingClamp: null,
  });
});

test('what loads nothing needs no pressure', () => {
  const nothing = milling({ wear: 0, axialForceN: 0 });
  expect(requiredOfCut({ cut: nothing, elements: [locators(), clamp()], solver })).toMatchObject({
    status: 'held',
    requiredPressurePa: 0,
  });
});

test('what is missing is named; what cannot be is refused with what it needs', () => {
  const fieldsOf = (cut: CutFigures, ...elements: HoldingElement[]) =>
    requiredOfCut({ cut, elements, solver }).missing.map(({ field, ref }) => (ref ? `${ref.id}.${field}` : field));
  expect(fieldsOf(drilling({ feedM: null, toolAxis: null, pointsM: [] }), locators(), clamp())).toEqual([
    'feedM',
    'toolAxis',
    'pointsM',
  ]);
  expect(fieldsOf(milling())).toEqual(['clamps', 'locators']);
  const bare = { frictionCoefficient: null, ratedForceN: null, ratedPressurePa: null, places: [] };
  expect(fieldsOf(drilling(), locators({ places: [] }), clamp(bare))).toEqual([
    'rest.places',
    'clamp.places',
    'clamp.frictionCoefficient',
    'clamp.ratedForceN',
    'clamp.ratedPressurePa',
  ]);
  const unsaid = { ratedForceN: null, ratedPressurePa: null, leastWorkingPressurePa: null };
  expect(fieldsOf(drilling(), locators(), support(unsaid), clamp())).toEqual([
    'support.ratedForceN',
    'support.ratedPressurePa',
    'support.leastWorkingPressurePa',
  ]);
  const steep = drilling({ pointAngleRad: 4 });
  expect(requiredOfCut({ cut: steep, elements: [locators(), clamp()], solver })).toMatchObject({
    status: 'refused',
    refused: { fields: ['pointAngleRad'], needs: 'at most 180 deg' },
  });
  const round = Array.from(
    { length: 100 },
    (_, k): Vector3 => [...onCircle((k * Math.PI) / 50).slice(0, 2), 0.04] as unknown as Vector3,
  );
  const dense = milling({ pointsM: round, directions: 1000 });
  expect(requiredOfCut({ cut: dense, elements: [locators(), clamp()], solver }).refused?.fields).toContain('loads');
  const places = Array(58).fill(clamp().places[0]) as HoldingElement['places'];
  const crowd = [locators(), clamp({ quantity: 58, places })];
  expect(requiredOfCut({ cut: drilling(), elements: crowd, solver }).refused?.needs).toBe('at most 60 contacts');
  const broken: LinearProgramSolver = {
    withProgram: () => {
      throw new TypeError('out of memory');
    },
  };
  expect(() => requiredOfCut({ cut: drilling(), elements: [locators(), clamp()], solver: broken })).toThrow(TypeError);
});
