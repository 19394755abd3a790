import { actuate } from '../src/circuit-checks/actuation.js';
import { proveCircuit } from '../src/circuit-checks/prove-circuit.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import { aCircuit, aControl, aFixture, aSupport, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf, part } from './facts-checks.js';

// Each of these was once told to be better than it is by hand.

const basis = aCircuit();
const READ = { ...READINGS, clampTimeS: null, contactTimeS: null, unclampTimeS: null };
const unread = { ...basis.settings, readings: READ };
const circuitWith = (circuit: Partial<CircuitFacts['circuit']>, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ circuit: { ...basis.circuit, ...circuit }, ...change });
const statusOf = (facts: CircuitFacts, code: string) => checkOf(facts, code)?.status;
const rated = (pressurePa: number) =>
  COMPONENTS.map((one) => ({ ...one, figures: { ...one.figures, ratedPressure: pressurePa } }));
const strong = { ratedPressurePa: 400e5, armPressurePa: 400e5 };
const STRONG = aFixture({ ratedPressurePa: 400e5, elements: [{ ...ELEMENT, ...strong }] });
const PUSHING = aFixture({
  ratedPressurePa: 400e5,
  elements: [{ ...ELEMENT, ...strong, form: 'lever-clamp', pulls: false }],
});
const throttle = (line: LineFunction, fromCylinders: number) =>
  part('flow-control-valve', [line], { flowToCylinders: 1e-4, flowFromCylinders: fromCylinders });
const withHose = (id: string, length: number, innerDiameter: number): ComponentFacts[] =>
  COMPONENTS.map((one) => (one.id === id ? { ...one, figures: { ...one.figures, length, innerDiameter } } : one));
const decoupled = (circuit: Partial<CircuitFacts['circuit']>, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  circuitWith(
    {
      ...{ isDecoupled: true, timeWithoutSupplyS: 900, coolingWithoutSupplyK: 2, isProvedAgain: true },
      ...{ trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8, unclampBulkModulusPa: 6e8, returnPressurePa: 0 },
      ...circuit,
    },
    { components: rated(400e5), ...change },
  );
const readingOf = (decayPa: number, decayDurationS: number) => ({
  ...basis.settings,
  readings: { ...READINGS, oilTemperatureK: 313.15, decayPa, decayDurationS },
});

describe('the switch makes before clamps have moved', () => {
  it('while the unclamp line, which was open at the setting, still lets down', () => {
    // Clamps that pull stand still until it has fallen to (150 bar x annulus) / piston = 88 bar: 0.9 L/min out of 5 m of hose of 10 mm.
    // By an independent integration: 150 bar at 0.055 s with nothing moved, 147 bar on the way, contact at 1.90 s.
    const facts = aCircuit({
      components: [...withHose('circuit hose unclamp', 5, 0.01), throttle('unclamp', 1.5e-5)],
      settings: unread,
    });
    expect(statusOf(facts, 'clamping-time')).not.toBe('holds');
  });

  it('with an electric pump, which gives its whole flow up to where it cuts out', () => {
    // 1.2 L/min out of the piston sides are 0.71 L/min into the annulus: of 3.2 L/min the rest lifts the line to 185 bar.
    const facts = aCircuit({
      powerUnit: { ...basis.powerUnit, drive: 'electric' },
      components: [
        ...COMPONENTS.map((one) =>
          one.kind === 'pump' ? { ...one, figures: { ...one.figures, highestPressure: 185e5 } } : one,
        ),
        throttle('unclamp', 2e-5),
      ],
      settings: unread,
    });
    expect(statusOf(facts, 'clamping-time')).not.toBe('holds');
  });

  it('with cold oil and the air that is set, as on any morning', () => {
    // 5 m of 2.5 mm in the unclamp line: more than 150 bar in the clamp line while clamps move; with the lowest air 148.
    const facts = aCircuit({
      neighbours: [],
      powerUnit: { ...basis.powerUnit, plantAirLowPa: 4.05e5 },
      components: withHose('circuit hose unclamp', 5, 0.0025),
      settings: {
        ...{ inUse: { ...SETTINGS, settingPa: 170e5, settingTolerancePa: 3e5 }, isAsLeft: true },
        readings: { ...READ, settingPa: 170e5 },
      },
    });
    const { actuation } = toMovementInput(facts);
    const { freeFlowM3PerS, stallPressurePa } = actuation.pump;
    const pump = { ...actuation.pump, freeFlowLowM3PerS: freeFlowM3PerS, stallPressureLowPa: stallPressurePa, settingLowPa: stallPressurePa }; // prettier-ignore
    const morning = actuate({ ...actuation, pump }).cold;
    expect(Number(morning?.soonestSwitchS)).toBeLessThan(Number(morning?.timeToContactS));
    expect(statusOf(facts, 'clamping-time')).not.toBe('holds');
  });

  it('where it makes lower by its accuracy', () => {
    // Between 148 and 150 bar lies what the clamp line has while clamps move: at 148 it makes after 0.14 s, contact is at 1.69 s.
    const facts = aCircuit({ components: [...COMPONENTS, throttle('unclamp', 1.4e-5)], settings: unread });
    const { actuation } = toMovementInput(facts);
    const sooner = actuate({ ...actuation, switchRisingPa: 148e5 }).warm;
    expect(Number(sooner?.soonestSwitchS)).toBeLessThan(Number(sooner?.timeToContactS));
    expect(statusOf(facts, 'clamping-time')).not.toBe('holds');
  });
});

it('how fast it leaked is not known of what fell to nothing within its test', () => {
  const facts = aCircuit({ settings: readingOf(175e5, 300) });
  expect(statusOf(facts, 'holds-workpiece')).not.toBe('holds');
});

it('a coupling in the unclamp line can block it, whatever somebody has said', () => {
  // 118 + 1.694 x (2 + 72) bar of the 140 at the reset point.
  const facts = circuitWith(
    {
      ...{ unclampLineCanBlock: false, trappedTemperatureRiseK: 20, trappedNetExpansionPerK: 6e-4 },
      ...{ trappedBulkModulusPa: 6e8, unclampBulkModulusPa: 6e8 },
    },
    { components: [...rated(400e5), part('quick-coupling', ['unclamp'], {})], fixture: STRONG },
  );
  expect(statusOf(facts, 'holds-workpiece')).not.toBe('holds');
  expect(statusOf(facts, 'clamping-time')).not.toBe('holds');
});

describe('a pallet without its supply', () => {
  it('lacks, once it is cold again, what leaked while it was warm', () => {
    // 157 bar + 108 by 30 K; k of 2 + 4 bar in 600 s, oil 2.86 times as thin: 265 e^(-0.150) - 108 - 7.2 = 113 bar of 118.
    const facts = decoupled({ trappedTemperatureRiseK: 30 }, { fixture: PUSHING, settings: readingOf(2e5, 600) });
    expect(statusOf(facts, 'holds-without-supply')).not.toBe('holds');
  });

  it('has no more in its clamp line, still hot, than where its relief has shut again', () => {
    // 155 - 1.694 x 28.8 bar = 106 of 118.
    const relief = {
      ...part('relief-valve', ['clamp'], { openingPressure: 186e5, fullFlowPressure: 195e5, reseatPressure: 155e5 }),
      isBeyondShutOff: true,
    };
    const facts = decoupled(
      {
        ...{ timeWithoutSupplyS: 60, coolingWithoutSupplyK: 0, trappedTemperatureRiseK: 4, unclampBulkModulusPa: 12e8 },
        ...{ unclampLineCanBlock: false },
      },
      { components: [...rated(400e5), relief], fixture: STRONG, settings: readingOf(1e5, 3600) },
    );
    expect(statusOf(facts, 'holds-without-supply')).not.toBe('holds');
  });
});

describe('a support, where less is lost on the way', () => {
  const facts = (change: Parameters<typeof aSupport>[0], lossAtRatedFlow = 6e5) =>
    aCircuit({
      components: COMPONENTS.map((one) =>
        one.kind === 'directional-valve' ? { ...one, figures: { ...one.figures, lossAtRatedFlow } } : one,
      ),
      fixture: aFixture({ elements: [aSupport({ springForceAtContactN: 110, ...change }), ELEMENT] }),
      settings: unread,
    });

  it('locks later than the first clamp touches: by hand at 10.4 bar, with the valve by the square of its flow', () => {
    expect(statusOf(facts({ leastWorkingPressurePa: 12e5 }, 1), 'order-and-speed')).toBe('fails');
    expect(statusOf(facts({ leastWorkingPressurePa: 12e5 }), 'order-and-speed')).not.toBe('holds');
  });

  it('is still on its way when the first clamp touches: by hand 0.316 s against 0.309 s', () => {
    const slow = { leastWorkingPressurePa: 5e5, viscousFrictionNsPerM: 3700 };
    expect(statusOf(facts(slow, 1), 'order-and-speed')).toBe('fails');
    expect(statusOf(facts(slow), 'order-and-speed')).not.toBe('holds');
  });
});

describe('times', () => {
  const pushing = aFixture({
    elements: [
      {
        ...ELEMENT,
        ...{ form: 'cylinder', pulls: false, quantity: 2, boreM: 0.032, rodM: 0.02, strokeM: 0.004 },
        contactStiffnessNPerM: 1e7,
      },
    ],
  });

  it('to open are longer by what the clamp line lets down before clamps that push can move', () => {
    // 8.8 mL out of 10 m of hose of 10 mm until it has fallen to 104 bar, through 0.12 L/min: 4.4 s beside the 3.2 s of the stroke.
    const facts = aCircuit({
      components: [...withHose('circuit hose clamp', 10, 0.01), throttle('clamp', 2e-6)],
      fixture: pushing,
      settings: unread,
    });
    expect(statusOf(facts, 'unclamping')).not.toBe('holds');
  });

  it('to let down start from what oil that was shut in has warmed up to', () => {
    const sprung = { ...ELEMENT, ...strong, form: 'lever-clamp', acting: 'single', springForceN: 300 } as const;
    const facts = (trappedTemperatureRiseK: number) =>
      decoupled(
        { trappedTemperatureRiseK, returnPressurePa: 2e5 },
        {
          components: [...withHose('circuit hose clamp', 10, 0.01), throttle('clamp', 6e-6)],
          fixture: aFixture({ elements: [{ ...sprung, springForceAtContactN: 420 }] }),
          settings: unread,
        },
      );
    const timeOf = (riseK: number) => Number(checkOf(facts(riseK), 'unclamping')?.numbers?.stated?.demand);
    // 72 bar more, with what oil, hose and clamps give way by, through 0.36 L/min: 1.4 s.
    expect(timeOf(20) - timeOf(0)).toBeGreaterThan(1);
  });

  it('with two directional valves are no shorter than with the smaller alone, in whatever order they are listed', () => {
    const large = COMPONENTS.find(({ kind }) => kind === 'directional-valve') as ComponentFacts;
    const small = { ...large, id: 'small', figures: { ...large.figures, ratedFlow: 1 / 60_000 } };
    const others = COMPONENTS.filter((one) => one !== large);
    const timeOf = (valves: ComponentFacts[]) =>
      Number(actuate(toMovementInput(aCircuit({ components: [...valves, ...others] })).actuation).cold?.timeToSwitchS);
    expect(timeOf([small, large])).toBeGreaterThanOrEqual(timeOf([small]));
    expect(timeOf([large, small])).toBeGreaterThanOrEqual(timeOf([small]));
  });

  it('behind a reducing valve that is fitted are those behind one', () => {
    const timeOf = (hasReducingValve: boolean) => {
      const facts = circuitWith(
        { hasReducingValve, reducingValveRelieves: true },
        {
          components: [...withHose('circuit hose clamp', 10, 0.01), part('reducing-valve', ['supply'], {})],
          settings: { ...unread, inUse: { ...SETTINGS, settingPa: 100e5, setPointPa: 90e5, resetPointPa: 82e5 } },
        },
      );
      return Number(actuate(toMovementInput(facts).actuation).cold?.timeToSwitchS);
    };
    expect(timeOf(false)).toBeGreaterThanOrEqual(timeOf(true));
  });
});

it('what stands in the tank line bears the pressure that is in it', () => {
  const facts = circuitWith(
    { returnPressurePa: 10e5 },
    { components: [...COMPONENTS, part('filter', ['tank'], { ratedPressure: 7e5 })] },
  );
  expect(statusOf(facts, 'highest-within-rating')).not.toBe('holds');
});

it('of two bounds that are each likely both are less so: 0.931, not 0.957', () => {
  const facts = aCircuit({
    powerUnit: { ...basis.powerUnit, plantAirLowPa: 154.35e5 / (40 * 0.98) },
    settings: { ...unread, inUse: { ...SETTINGS, settingPa: 156e5, settingTolerancePa: 4e5 } },
  });
  expect(Number(checkOf(facts, 'no-nuisance-stop')?.probability)).toBeLessThan(0.94);
});

it('two circuits of a station, which go by one code, share the flow of the pump', () => {
  // 0.41 s alone; with half the flow 0.76 s.
  const both = aControl();
  const stationId = 'station of circuit';
  const control = {
    ...both,
    circuits: both.circuits.map((one) => ({ ...one, stationId })),
    mCodes: both.mCodes.filter((code) => code.stationId === stationId),
  };
  expect(statusOf(circuitWith({ clampTimeAllowedS: 0.5 }, { control, settings: unread }), 'clamping-time')).not.toBe(
    'holds',
  );
});

describe('what contradicts itself is not known', () => {
  it('oil that is coldest when it is hotter than at work', () => {
    const timeOf = (coldOilTemperatureK: number, workingOilTemperatureK: number) =>
      checkOf(
        aCircuit({ powerUnit: { ...basis.powerUnit, coldOilTemperatureK, workingOilTemperatureK }, settings: unread }),
        'unclamping',
      )?.numbers?.stated?.demand ?? Infinity;
    expect(timeOf(333.15, 283.15)).toBeGreaterThanOrEqual(timeOf(283.15, 333.15));
  });

  it('more air at the pump than there is at the most', () => {
    // 40 x 5.6 bar = 224 of 210.
    const facts = aCircuit({
      components: COMPONENTS.filter(({ kind }) => kind !== 'relief-valve'),
      settings: { ...basis.settings, inUse: { ...SETTINGS, airPressurePa: 5.6e5 } },
    });
    expect(statusOf(facts, 'highest-within-rating')).not.toBe('holds');
  });
});

describe('what is not known of it is asked', () => {
  const warming = {
    ...{
      trappedTemperatureRiseK: 20,
      trappedNetExpansionPerK: 6e-4,
      trappedBulkModulusPa: 6e8,
      unclampBulkModulusPa: 6e8,
    },
    ...{ canTrap: false, unclampLineCanBlock: false, isCheckHeld: false },
  };
  const missingOf = (facts: CircuitFacts, code: string) => checkOf(facts, code)?.missing.map(({ field }) => field);

  it('whether a pallet is at times without supply: the unclamp line may then have warmed up before it lets down', () => {
    expect(missingOf(circuitWith({ ...warming, isDecoupled: null }, { settings: unread }), 'clamping-time')).toEqual([
      'isDecoupled',
    ]);
    const cold = { ...warming, isDecoupled: null, trappedTemperatureRiseK: 0 };
    expect(missingOf(circuitWith(cold, { settings: unread }), 'clamping-time')).toEqual([]);
  });

  it('the pressure of the tank line, of what stands in it', () => {
    const filter = { components: [...COMPONENTS, part('filter', ['tank'], { ratedPressure: 7e5 })] };
    expect(missingOf(circuitWith({ returnPressurePa: null }, filter), 'highest-within-rating')).toContain(
      'returnPressurePa',
    );
  });

  it('how thin the oil is that has warmed up', () => {
    const facts = decoupled({ trappedTemperatureRiseK: 10 }, { fixture: PUSHING, settings: readingOf(1e5, 3600) });
    const powerUnit = { ...facts.powerUnit, oilViscosityAt100M2PerS: null };
    const missing = missingOf({ ...facts, powerUnit }, 'holds-without-supply');
    expect(missing).toEqual(['viscosityAt100M2PerS']);
    // Figures of no oil.
    const noOil = { ...facts.powerUnit, oilViscosityAt40M2PerS: 5e-6, oilViscosityAt100M2PerS: 30e-6 };
    expect(missingOf({ ...facts, powerUnit: noOil }, 'holds-without-supply')).toEqual([
      'temperatureRiseK',
      'workingTemperatureK',
      'viscosityAt40M2PerS',
      'viscosityAt100M2PerS',
    ]);
  });
});

it('what has more behind it than the pump gives has let down already', () => {
  const { actuation } = toMovementInput(aCircuit({ settings: unread }));
  expect(actuate({ ...actuation, returnPressurePa: 3e7 }).warm?.timeToContactS).toBe('never');
});

it('is mended by a part of the tank line that is rated for what stands there', () => {
  const facts = circuitWith(
    { returnPressurePa: 10e5 },
    { components: [...COMPONENTS, part('filter', ['tank'], { ratedPressure: 7e5 })] },
  );
  const { changes } = findWayOut(facts);
  expect(changes).toContainEqual(expect.objectContaining({ code: 'rating', id: 'extra filter' }));
});

it('a record of which nobody has said how much thinner its oil gets leaks as it did', () => {
  const facts = decoupled({ trappedTemperatureRiseK: 10 }, { fixture: PUSHING, settings: readingOf(1e5, 3600) });
  const input = toProofInput(facts);
  const { thinning: _thinning, ...thermal } = input.pressureLadder.thermal;
  const kept = (made: typeof input) =>
    Number(proveCircuit(made).checks.find(({ code }) => code === 'holds-without-supply')?.stated?.capacityPa);
  const before = kept({ ...input, pressureLadder: { ...input.pressureLadder, thermal } });
  expect(before).toBeGreaterThan(kept(input));
});
