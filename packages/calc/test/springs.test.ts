import type { ActuationGroup } from '../src/circuit-checks/actuation.types.js';
import { actuate } from '../src/circuit-checks/actuation.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { loadSolver } from '../src/holding/load-solver.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { HoldingElement } from '../src/holding/required-of-cut.types.js';
import { clamp, drilling, locators, support } from './cut-builder.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { anActuation } from './proof-builder.js';

let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** A drill straight above pads: what it takes to hold its turning and its pull is one force of one clamp. */
const cut = drilling({ pointsM: [[0.03, 0, 0.04]] });
const needs = (...elements: HoldingElement[]) => requiredOfCut({ cut, elements: [locators(), ...elements], solver });
const sprung = (springForceAtContactN: number | null, change: Partial<HoldingElement> = {}): HoldingElement =>
  clamp({ acting: 'single', springForceAtContactN, ...change });

test('a spring takes its force off at every pressure: F = (8000 + 600) / 250 bar x p - 600 N', () => {
  const pushed = needs(clamp({ acting: 'double' }));
  const forceN = (8000 * Number(pushed.requiredPressurePa)) / 250e5;
  expect(forceN).toBeGreaterThan(500);
  const byHand = ((forceN + 600) * 250e5) / 8600;
  const found = needs(sprung(600));
  expect(found.requiredPressurePa).toBeCloseTo(byHand, -2);
  expect(byHand).toBeGreaterThan(1.05 * Number(pushed.requiredPressurePa));
  // What it presses with at that pressure is what was needed.
  const pressing = (one: typeof found) => Number(one.contacts.find(({ kind }) => kind === 'clamp')?.normalN);
  expect(pressing(found)).toBeCloseTo(pressing(pushed), 0);
  expect(needs(sprung(0)).requiredPressurePa).toBeCloseTo(Number(pushed.requiredPressurePa), 0);
});

test('two clamps, one of them sprung: the weaker one asks for more, and the friction of both follows what they press', () => {
  const at = (x: number, id: string): Partial<HoldingElement> => ({
    ...{ id, name: id, ratedForceN: 3000 },
    places: [{ pointM: [x, 0, 0.04], direction: [0, 0, -1] }],
  });
  const pair = (spring: number) =>
    needs(clamp({ ...at(-0.02, 'left'), acting: 'double' }), sprung(spring, at(0.02, 'right')));
  const steps = [0, 200, 400, 800].map((spring) => Number(pair(spring).requiredPressurePa));
  for (const [index, more] of steps.slice(1).entries()) expect(more).toBeGreaterThan(Number(steps[index]));
  const { contacts } = pair(400);
  for (const { kind, normalN, frictionN } of contacts) {
    if (kind === 'clamp') expect(frictionN).toBeLessThanOrEqual(0.2 * normalN + 1e-3);
  }
});

test('below the pressure that beats its spring a clamp presses nothing', () => {
  const weightless = drilling({ pointsM: [[0, 0, 0.04]], kc11Pa: 1, breakthroughRatio: 0 });
  const found = requiredOfCut({ cut: weightless, elements: [locators(), sprung(4000)], solver });
  expect(found.requiredPressurePa).toBeGreaterThanOrEqual((4000 * 250e5) / 12_000 - 1);
});

test('a clamp of which nobody has said what returns it, or how hard its spring pushes at contact, is asked for it', () => {
  const fieldsOf = (element: HoldingElement) => needs(element).missing.map(({ field }) => field);
  expect(fieldsOf(clamp({ acting: null }))).toEqual(['acting']);
  expect(fieldsOf(sprung(null))).toEqual(['springForceAtContactN']);
  // Computed before there was such a figure, it is as it was.
  expect(needs(clamp()).status).toBe('held');
});

test('what the clamps add to a support grows as their oil pushes, spring or not', () => {
  const loads = (element: HoldingElement) =>
    requiredOfCut({ cut, elements: [locators(), support(), element], solver }).supportLoads[0];
  expect(Number(loads(sprung(800))?.loadPerPaN) / Number(loads(clamp({ acting: 'double' }))?.loadPerPaN)).toBeCloseTo(
    8800 / 8000,
    3,
  );
});

test('what would help most is found with springs as without', () => {
  const found = needs(sprung(600, { id: 'one' }));
  expect(found.bestChange).not.toBeNull();
  expect(Number(found.bestChange?.gainPa)).toBeGreaterThan(0);
});

test('how long a sprung clamp takes is not told until somebody says how hard its spring pushes at contact', () => {
  const sprungBack = { ...ELEMENT, form: 'lever-clamp', acting: 'single', springForceN: 300 } as const;
  const { settings } = aCircuit();
  const unread = { ...settings, readings: { ...READINGS, clampTimeS: null, contactTimeS: null } };
  const judged = (springForceAtContactN: number | null) =>
    checkOf(
      aCircuit({ settings: unread, fixture: aFixture({ elements: [{ ...sprungBack, springForceAtContactN }] }) }),
      'clamping-time',
    );
  expect(judged(400)?.missing).toEqual([]);
  const ref = { entity: 'fixture', id: 'fixture', name: 'F-1: Swing clamps' };
  expect(judged(null)).toMatchObject({ status: 'unproven', missing: [{ field: 'springForceAtContactN', ref }] });
  const cylinder = COMPONENTS.find(({ kind }) => kind === 'hose');
  if (cylinder === undefined) throw new Error('there is a hose');
  const fitted = (figures: Record<string, number>) => {
    const { boreM, strokeM, frictionN, viscousFrictionNsPerM, contactStiffnessNPerM } = ELEMENT;
    const moving = { bore: Number(boreM), stroke: Number(strokeM), friction: Number(frictionN) };
    const more = { viscousFriction: Number(viscousFrictionNsPerM), contactStiffness: Number(contactStiffnessNPerM) };
    const ownCylinder = {
      ...cylinder,
      id: 'own',
      kind: 'cylinder' as const,
      name: 'Z1',
      lineFunctions: ['clamp' as const],
    };
    const spring = { ratedPressure: 300e5, springForce: 300, ...figures };
    return checkOf(
      aCircuit({
        settings: unread,
        components: [...COMPONENTS, { ...ownCylinder, figures: { ...moving, ...more, ...spring } }],
      }),
      'clamping-time',
    );
  };
  expect(fitted({ springForceAtContact: 400 })?.missing).toEqual([]);
  expect(fitted({})?.missing).toEqual([
    { field: 'springForceAtContactN', ref: { entity: 'installed-component', id: 'own', name: 'Z1' } },
  ]);
});

test('a stroke against a spring that pushes harder at its end takes longer, and meets the workpiece at a higher pressure', () => {
  const { groups } = anActuation();
  const [first] = groups as [ActuationGroup];
  const only = (springForceAtContactN: number | null) =>
    actuate({
      ...anActuation(),
      groups: [{ ...first, acting: 'single', rodM: null, springForceN: 200, springForceAtContactN }],
    }).warm;
  expect(Number(only(700)?.timeToContactS)).toBeGreaterThan(Number(only(null)?.timeToContactS));
  expect(Number(only(700)?.pressureAtFirstContactPa)).toBeGreaterThan(Number(only(null)?.pressureAtFirstContactPa));
  // A figure below the least of the stroke is none.
  expect(only(100)).toEqual(only(null));
});
