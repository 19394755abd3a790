import { actuate } from '../src/circuit-checks/actuation.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import type { CircuitFacts, FixtureElementFacts } from '../src/circuit-facts/circuit-facts.types.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { loadSolver } from '../src/holding/load-solver.js';
import { requiredOfCut } from '../src/holding/required-of-cut.js';
import type { CutFigures, HoldingElement } from '../src/holding/required-of-cut.types.js';
import { clamp, drilling, locators, milling, RADIUS, support } from './cut-builder.js';
import { aCircuit, aFixture, aSupport, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf, part, withFigures, without } from './facts-checks.js';

// Each of these circuits once read better than it is by hand.

const basis = aCircuit();
const LITRE_PER_MINUTE = 1 / 60_000;
const READ = { ...READINGS, clampTimeS: null, contactTimeS: null, unclampTimeS: null };
const unread = { ...basis.settings, readings: READ };
const circuitWith = (circuit: Partial<CircuitFacts['circuit']>, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ circuit: { ...basis.circuit, ...circuit }, ...change });
const clamped = (change: Partial<FixtureElementFacts>, rating = 210e5) =>
  aFixture({ ratedPressurePa: rating, elements: [{ ...ELEMENT, ...change }] });
/** Nothing in an unclamp line. */
const ONE_LINE = COMPONENTS.filter(({ id }) => id !== 'circuit hose unclamp').map((one) =>
  one.kind === 'directional-valve' ? { ...one, lineFunctions: ['supply', 'tank', 'clamp'] as const } : one,
);
const rated = (pressurePa: number) =>
  COMPONENTS.map((one) => ({ ...one, figures: { ...one.figures, ratedPressure: pressurePa } }));
const WARM = {
  ...{ canTrap: true, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 },
  ...{ unclampBulkModulusPa: 6e8 },
};

describe('oil that is shut in', () => {
  const strong = { ratedPressurePa: 400e5, armPressurePa: 400e5 };

  it('in the unclamp line alone takes of the clamping force while the clamp line is supplied', () => {
    // 20 K x 6e-4 x 6000 bar = 72 bar in it, times piston over annulus 1.694: 122 bar of the 140 that are left at the reset point.
    const facts = circuitWith(
      { ...WARM, trappedTemperatureRiseK: 20, unclampLineCanBlock: true },
      { fixture: clamped(strong, 400e5), components: [...rated(400e5), part('quick-coupling', ['unclamp'], {})] },
    );
    expect(checkOf(facts, 'holds-workpiece')?.status).not.toBe('holds');
  });
});

it('where the unclamp line can be blocked, the switch makes while no clamp moves', () => {
  const facts = circuitWith(
    { unclampLineCanBlock: true },
    {
      fixture: clamped({ ratedPressurePa: 400e5, form: 'lever-clamp', pulls: false }, 400e5),
      components: rated(400e5),
    },
  );
  expect(checkOf(facts, 'clamping-time')?.status).not.toBe('holds');
});

describe('what rest pads and supports bear', () => {
  let solver: LinearProgramSolver;
  beforeAll(async () => {
    solver = await loadSolver();
  });
  const light = (change: Partial<CutFigures> = {}) => drilling({ diameterM: 0.004, feedM: 0.0001, ...change });
  const solved = (cut: CutFigures, elements: HoldingElement[]) => requiredOfCut({ cut, elements, solver });
  const stops = locators({
    ...{ id: 'stops', name: 'Stops', quantity: 2 },
    places: [-0.03, 0.03].map((y) => ({ pointM: [-RADIUS, y, 0.02], direction: [1, 0, 0] })),
  });
  const pusher = clamp({ id: 'side', places: [{ pointM: [RADIUS, 0, 0.02], direction: [-1, 0, 0] }] });

  it('is not relieved by the friction of stops and side clamps', () => {
    const { forces, locatorLimit } = solved(light(), [locators({ forceLimitN: 2000 }), stops, pusher, clamp()]);
    // A third each of the clamp above and of the thrust, twice for safety: 3 x 2000 N = 8000 N x p / 250 bar + 2 x 972 N.
    const byHandPa = ((3 * 2000 - 2 * Number(forces?.thrustN)) / 8000) * 250e5;
    expect(Number(locatorLimit?.highestPressurePa)).toBeLessThanOrEqual(1.01 * byHandPa);
  });

  it('after a step of clamping counts, before other clamps relieve them', () => {
    const pads = [0, 0.1].flatMap((x) => [-0.05, 0.05].map((y) => [x, y, 0] as const));
    const { supportLoads } = solved(light({ pointsM: [[0.1, 0, 0.04]] }), [
      locators({ quantity: 4, places: pads.map((pointM) => ({ pointM, direction: [0, 0, 1] })) }),
      support({
        ...{ ratedForceN: 20_000, frictionCoefficient: 0, leastWorkingPressurePa: 40e5 },
        places: [{ pointM: [0.2, 0, 0], direction: [0, 0, 1] }],
      }),
      clamp({ id: 'first', places: [{ pointM: [0.2, 0, 0.04], direction: [0, 0, -1] }] }),
      clamp({ id: 'second', places: [{ pointM: [0.05, 0, 0.04], direction: [0, 0, -1] }] }),
    ]);
    const [load] = supportLoads;
    const atSetting = Number(load?.loadN) + Number(load?.loadPerPaN) * (179e5 - Number(load?.atPressurePa));
    // The first clamp stands above it and presses alone.
    expect(atSetting).toBeGreaterThanOrEqual((8000 * 179) / 250 - 1);
  });

  it('with less friction the operation requires more in whichever case that then is', () => {
    const [high, aside] = [[0, 0, 0.27] as const, [0.05, 0, 0.02] as const];
    const cut = milling({
      ...{ diameterM: 0.01, teeth: 3, feedM: 0.00005, axialDepthM: 0.001, radialWidthM: 0.005, wear: 1 },
      ...{ leadAngleRad: Math.PI / 2, axialForceN: 0, pointsM: [high, aside] },
    });
    const on = (friction: number) => [locators({ frictionCoefficient: friction }), clamp({ frictionCoefficient: 0 })];
    const asGiven = solved(cut, on(0.2));
    const slippery = solved(cut, on(0.16));
    const morePa = Number(slippery.requiredPressurePa) - Number(asGiven.requiredPressurePa);
    expect(morePa).toBeGreaterThan(12e5);
    expect(Number(asGiven.spread?.frictionPa)).toBeGreaterThanOrEqual(0.99 * morePa);
  });
});

describe('flows of swing clamps', () => {
  const intoOf = (facts: CircuitFacts) => actuate(toMovementInput(facts).actuation).flowsM3PerS?.[0] ?? 0;
  const backOf = (facts: CircuitFacts) => actuate(toMovementInput(facts).actuation).returnFlowsM3PerS?.[0] ?? 0;

  it('are not less for a reducing valve, which stands open until its setting is near', () => {
    const settings = { ...unread, inUse: { ...SETTINGS, settingPa: 60e5, setPointPa: 45e5, resetPointPa: 41e5 } };
    const fixture = clamped({ quantity: 2, frictionN: 700 });
    const [open, reduced] = [false, true].map((hasReducingValve) =>
      intoOf(circuitWith({ hasReducingValve, reducingValveRelieves: true }, { settings, fixture })),
    );
    expect(reduced).toBeGreaterThan(0.95 * Number(open));
  });

  it('of an electric pump are its whole flow, up to where it cuts out', () => {
    const facts = aCircuit({
      ...{ powerUnit: { ...basis.powerUnit, drive: 'electric' }, settings: unread },
      ...{ components: withFigures('pump', { highestPressure: 185e5 }), fixture: clamped({ quantity: 2 }) },
    });
    expect(intoOf(facts)).toBeGreaterThanOrEqual(0.98 * (3.2 / 2) * LITRE_PER_MINUTE);
  });

  it('that springs push back are those of the spring as it starts, at contact', () => {
    const fixture = (springForceN: number) =>
      clamped({
        ...{ acting: 'single', quantity: 1, springForceN, springForceAtContactN: 1300 },
        ...{ frictionN: 60, viscousFrictionNsPerM: 3000 },
      });
    const [least, most] = [700, 1300].map((springN) =>
      backOf(aCircuit({ components: ONE_LINE, fixture: fixture(springN), settings: unread })),
    );
    expect(least).toBeGreaterThanOrEqual(0.99 * Number(most));
  });
});

it('the highest possible pressure is that of a pump without the friction that its stall efficiency tells', () => {
  // 40 x 5.4 bar = 216 bar above the fixture's 210; with 0.9 it is 194.4 bar.
  const facts = aCircuit({
    components: without('relief-valve').map((one) =>
      one.kind === 'pump' ? { ...one, figures: { ...one.figures, stallEfficiency: 0.9 } } : one,
    ),
    powerUnit: { ...basis.powerUnit, plantAirLowPa: 5.1e5, plantAirHighPa: 5.4e5 },
    settings: { ...basis.settings, inUse: { ...SETTINGS, airPressurePa: 5e5 } },
  });
  expect(checkOf(facts, 'highest-within-rating')?.status).not.toBe('holds');
});

it('a support that is still on its way when clamps touch has not locked, whatever the pressure', () => {
  const slow = aSupport({ viscousFrictionNsPerM: 50_000, strokeM: 0.02, springForceAtContactN: 100 });
  const facts = aCircuit({
    fixture: aFixture({ elements: [slow, ELEMENT] }),
    components: [
      ...COMPONENTS,
      part('sequence-valve', ['clamp'], { openingPressure: 60e5, leastWorkingPressure: 60e5 }),
    ],
  });
  expect(checkOf(facts, 'order-and-speed')?.status).toBe('fails');
});

it('a dip that was read with more air than there is at the lowest says too little', () => {
  // The pump's line moves with its stall: 150 bar x 4.15 / 4.5 = 138 bar, below 142 + 2.
  const facts = aCircuit({
    powerUnit: { ...basis.powerUnit, plantAirLowPa: 4.15e5 },
    settings: { ...basis.settings, readings: { ...READINGS, lowestWhileSharedPa: 150e5 } },
  });
  expect(checkOf(facts, 'shared-supply')?.status).not.toBe('holds');
});

describe('what shuts the oil of the clamps in', () => {
  const sprung = clamped({ form: 'lever-clamp', acting: 'single', springForceN: 400, springForceAtContactN: 500 });

  it('with a check valve that nobody has placed, clamps that springs return are not known to open', () => {
    const facts = circuitWith(
      { ...WARM, trappedTemperatureRiseK: 5, isCheckHeld: true },
      { components: ONE_LINE, fixture: sprung, settings: unread },
    );
    expect(checkOf(facts, 'unclamping')?.status).not.toBe('holds');
  });

  it('a sequence valve in the only line lets nothing back by itself', () => {
    const valve = part('sequence-valve', ['clamp'], { openingPressure: 60e5, leastWorkingPressure: 60e5 });
    const facts = aCircuit({ components: [...ONE_LINE, valve], fixture: sprung, settings: unread });
    expect(checkOf(facts, 'unclamping')?.status).not.toBe('holds');
  });

  it('a switch in the clamp line may stand before a check valve of that line', () => {
    const facts = circuitWith(
      { ...WARM, trappedTemperatureRiseK: 2, isCheckHeld: true },
      {
        fixture: clamped({ form: 'lever-clamp', pulls: false }),
        components: [
          ...COMPONENTS.map((one) => (one.kind === 'pressure-switch' ? { ...one, isBeyondShutOff: null } : one)),
          part('check-valve', ['clamp'], { lossCoefficient: 2, innerDiameter: 0.006 }),
        ],
      },
    );
    expect(checkOf(facts, 'holds-workpiece')?.status).not.toBe('holds');
  });
});

describe('of several of one kind the worst counts, in whatever order they are listed', () => {
  const second = (kind: 'pump' | 'gauge' | 'directional-valve', figures: Record<string, number>) =>
    COMPONENTS.filter((one) => one.kind === kind).map((one) => ({
      ...one,
      ...{ id: `second ${kind}`, name: `Second ${kind}`, figures: { ...one.figures, ...figures } },
    }));

  it('two pumps', () => {
    // 60 x 5.1 bar x 0.98 = 300 bar above the fixture's 210.
    const components = [...without('relief-valve'), ...second('pump', { pistonRatio: 60 })];
    expect(checkOf(aCircuit({ components }), 'highest-within-rating')).toMatchObject({
      ...{ status: 'unproven', missing: [{ field: 'pistonRatio' }] },
    });
  });

  it('two gauges, of which nobody says by which one settings are made', () => {
    // Class 4 of 400 bar: 16 bar, of the 18 that are between the reset point less its accuracy and what is required.
    const components = [...COMPONENTS, ...second('gauge', { span: 400e5, accuracyClass: 4 })];
    const facts = aCircuit({ components, settings: { ...basis.settings, isAsLeft: false } });
    expect(checkOf(facts, 'holds-workpiece')?.status).not.toBe('holds');
  });

  it('two directional valves one after the other: the loss of both', () => {
    const timeOf = (components: CircuitFacts['components']) =>
      Number(actuate(toMovementInput(aCircuit({ components })).actuation).cold?.timeToSwitchS);
    const further = second('directional-valve', { ratedFlow: LITRE_PER_MINUTE, lossAtRatedFlow: 40e5 });
    expect(timeOf([...COMPONENTS, ...further])).toBeGreaterThan(1.5 * timeOf(COMPONENTS));
  });
});

describe('what is not known of it is asked', () => {
  it('whether the unclamp line can be blocked, where oil in it would warm up', () => {
    const facts = (trappedTemperatureRiseK: number) =>
      circuitWith({ ...WARM, canTrap: false, trappedTemperatureRiseK, unclampLineCanBlock: null });
    expect(checkOf(facts(0), 'holds-workpiece')?.status).toBe('holds');
    expect(checkOf(facts(5), 'holds-workpiece')).toMatchObject({
      ...{ status: 'unproven', missing: [{ field: 'unclampLineCanBlock', ref: null }] },
    });
    expect(checkOf(facts(0), 'clamping-time')).toMatchObject({
      ...{ status: 'unproven', missing: [{ field: 'unclampLineCanBlock', ref: null }] },
    });
  });

  it('when a support arrives, where a sequence valve alone says at which pressure it must have locked', () => {
    const sequence = part('sequence-valve', ['clamp'], { openingPressure: 60e5, leastWorkingPressure: 60e5 });
    const facts = (change: Partial<FixtureElementFacts>, clamps: Partial<FixtureElementFacts> = {}) =>
      aCircuit({
        fixture: aFixture({ elements: [aSupport(change), { ...ELEMENT, ...clamps }] }),
        components: [...COMPONENTS, sequence],
      });
    expect(checkOf(facts({ viscousFrictionNsPerM: null }), 'order-and-speed')?.missing).toContainEqual({
      ...{ field: 'timeToContactS', ref: null },
    });
    // A spring that holds it back for good; and clamps that never come either.
    const never = { springForceN: 9e5, springForceAtContactN: 9e5 };
    expect(checkOf(facts(never), 'order-and-speed')).toMatchObject({ status: 'fails', reason: 'support-locks-late' });
    expect(checkOf(facts({}, { frictionN: 9e5 }), 'order-and-speed')?.reason).not.toBe('support-locks-late');
  });

  it('how far a reading may be off, where no transient stands beside it', () => {
    const readings = { ...READINGS, timeToleranceS: null };
    const { freeFlow: _flow, ...figures } = (COMPONENTS.find(({ kind }) => kind === 'pump') as (typeof COMPONENTS)[0])
      .figures;
    const components = COMPONENTS.map((one) => (one.kind === 'pump' ? { ...one, figures } : one));
    const check = checkOf(aCircuit({ components, settings: { ...basis.settings, readings } }), 'clamping-time');
    expect(check).toMatchObject({ status: 'unproven', missing: [{ field: 'timeHalfWidthS', ref: null }] });
  });

  it('flows, where nothing can follow how fast it goes', () => {
    const { actuation } = toMovementInput(aCircuit({ settings: unread }));
    const pump = { ...actuation.pump, steepestPa: Number.NaN };
    expect(actuate(actuation)).toMatchObject({ mostMovingPa: expect.any(Number), flowsM3PerS: [expect.any(Number)] });
    expect(actuate({ ...actuation, pump })).toMatchObject({ mostMovingPa: null, flowsM3PerS: null });
  });

  it.each([{ ratedFlow: 0 }, { ratedFlow: undefined }, { lossAtRatedFlow: undefined }])(
    'what a second directional valve loses: %p',
    (change) => {
      const [valve] = COMPONENTS.filter(({ kind }) => kind === 'directional-valve');
      const figures = Object.entries({ ...valve?.figures, ...change }).filter(([, figure]) => figure !== undefined);
      const second = {
        ...(valve as (typeof COMPONENTS)[0]),
        id: 'second',
        figures: Object.fromEntries(figures) as Record<string, number>,
      };
      const { actuation } = toMovementInput(aCircuit({ components: [...COMPONENTS, second] }));
      expect(actuation.valve?.lossAtRatedFlowPa).toBeNull();
    },
  );
});
