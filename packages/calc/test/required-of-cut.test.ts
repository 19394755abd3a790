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
  frictionCoefficient: 0.2,
  forceLimitN: null,
  places: [{ pointM: [0, 0, 0.04], direction: [0, 0, -1] }],
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
    cases: 2,
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
  expect(shallow).toMatchObject({ status: 'held', cases: 16, forces: { thrustN: null, torqueNm: null } });
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
    cases: 2,
    forces: { thrustN: null },
  });
});

test('a support carries no more than its load, a locator no more than its limit', () => {
  const under: HoldingElement = {
    ...locators(),
    id: 'support',
    name: 'Support',
    kind: 'support',
    quantity: 1,
    ratedForceN: 400,
    places: [{ pointM: [0, 0, 0], direction: [0, 0, 1] }],
  };
  const held = requiredOfCut({ cut: drilling(), elements: [locators(), under, clamp()], solver });
  expect(held.contacts.find(({ elementId }) => elementId === 'support')?.normalN).toBeLessThanOrEqual(400 + 1e-6);
  const frail = requiredOfCut({ cut: drilling(), elements: [locators({ forceLimitN: 100 }), clamp()], solver });
  expect(frail).toMatchObject({ status: 'not-held', requiredPressurePa: null, contacts: [], bestChange: null });
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
  expect(requiredOfCut({ cut: milling({ directions: 2 }), elements: [locators(), clamp()], solver })).toMatchObject({
    status: 'refused',
    refused: { fields: ['directions'], needs: 'at least four directions' },
  });
  const path = Array(51).fill([0, 0, 0.04]) as Vector3[];
  expect(requiredOfCut({ cut: milling({ pointsM: path }), elements: [locators(), clamp()], solver }).refused).toEqual({
    fields: ['pointsM', 'directions'],
    needs: 'at most 400 load cases',
  });
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
