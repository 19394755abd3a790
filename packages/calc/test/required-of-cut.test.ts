import { drillingForce } from '../src/cutting/drilling-force.js';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { CutFigures, HoldingElement } from '../src/holding/required-of-cut.types.js';
import type { Vector3 } from '../src/holding/vector.js';
import { NO_FIGURES, RADIUS, clamp, drilling, locators, milling, onCircle, support, STILL } from './cut-builder.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
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
    cases: 7,
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

test('a locator bears its largest force at a pressure: by hand, of one clamp amid three pads', () => {
  const cut = drilling({ breakthroughRatio: 0, thrustFactor: 0 });
  const plain = requiredOfCut({ cut, elements: [locators(), clamp()], solver });
  expect(plain.locatorLimit).toBeNull();
  const pressurePa = Number(plain.requiredPressurePa);
  // Each pad bears a third of the clamp, 8000 N at 250 bar; its friction, 0.2 of it 40 mm above the pads, may put 2/3 of its moment over their
  // radius of 80 mm upon one of them: a fifth more.
  const loadN = ((pressurePa / 250e5) * 8000) / 3;
  const most = 1 + (2 * 0.2 * 0.04) / 0.08;
  const frail = requiredOfCut({ cut, elements: [locators({ forceLimitN: 1.25 * loadN }), clamp()], solver });
  expect(frail.locatorLimit).toMatchObject({ elementId: 'rest', name: 'Rest pads', piece: 1, limitN: 1.25 * loadN });
  const borne = Number(frail.locatorLimit?.loadN);
  expect(borne / (most * loadN)).toBeCloseTo(1, 2);
  const byHand = pressurePa + ((1.25 * loadN - borne) / ((most * 8000) / 3)) * 250e5;
  expect(Number(frail.locatorLimit?.highestPressurePa) / byHand).toBeCloseTo(1, 3);
  // Of two the one that bears less; one beside the clamps, upon which they do not press, bears what it bears at any pressure.
  const side = (forceLimitN: number): HoldingElement =>
    locators({ id: 'side', name: 'Side pin', quantity: 1, forceLimitN, places: [{ pointM: [0.1, 0, 0.01], direction: [-1, 0, 0] }] }); // prettier-ignore
  const both = requiredOfCut({ cut, elements: [locators({ forceLimitN: 2 * loadN }), side(1e6), clamp()], solver });
  expect(both.locatorLimit?.elementId).toBe('rest');
  expect(requiredOfCut({ cut, elements: [locators(), side(1e6), clamp()], solver }).locatorLimit).toBeNull();
});

test('what a locator bears as the pressure goes up is not known where the clamps alone would tip the part that its weight holds', () => {
  const heavy = drilling({ partMassKg: 60, centreOfMassM: [0, 0, 0.02], feedM: 1e-6 });
  const beside = clamp({ ratedForceN: 100, places: [{ pointM: [0.1, 0, 0.04], direction: [0, 0, -1] }] });
  const found = requiredOfCut({ cut: heavy, elements: [locators({ forceLimitN: 2000 }), beside], solver });
  expect(found).toMatchObject({ status: 'held', locatorLimit: { limitN: 2000, loadN: null, highestPressurePa: null } });
});

test('how much more may be required: by hand, of one clamp amid three pads, by a harder material and by less friction', () => {
  const cut = drilling({ breakthroughRatio: 0, thrustFactor: 0 });
  const found = requiredOfCut({ cut, elements: [locators(), clamp()], solver });
  const pressurePa = Number(found.requiredPressurePa);
  // F = S·torque/(μ·r): as the specific force, and as one over the friction.
  expect(found.spread).toMatchObject({ specificForceRatio: 0.2, frictionRatio: 0.2 });
  expect(Number(found.spread?.specificForcePa) / pressurePa).toBeCloseTo(0.2, 6);
  expect(Number(found.spread?.frictionPa) / pressurePa).toBeCloseTo(1 / 0.8 - 1, 4);
  const varied = { ...cut, specificForceSpreadRatio: 0.1, frictionSpreadRatio: 0 };
  const surer = requiredOfCut({ cut: varied, elements: [locators(), clamp()], solver });
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
  // Where nothing holds at the far end, no pressure bounds it: the clamp may press no harder than the pads bear.
  const bears = (((1.1 * pressurePa) / 250e5) * 8000) / 3;
  const frail = requiredOfCut({ cut, elements: [locators({ forceLimitN: bears }), clamp()], solver });
  expect(frail.status).toBe('held');
  expect(frail.spread?.specificForcePa).toBeNull();
  expect(frail.spread?.frictionPa).toBeNull();
});

test('a pallet that turns: the weight is held in every direction that is said, cutting and not', () => {
  const heavy = drilling({ partMassKg: 30, centreOfMassM: [0, 0, 0.02], feedM: 1e-6 });
  const elements = [locators(), clamp()];
  const flat = requiredOfCut({ cut: heavy, elements, solver });
  const turned = requiredOfCut({
    cut: {
      ...heavy,
      ...STILL,
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
    cut: { ...heavy, ...STILL, otherGravities: [[1, 0, 0]] },
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
