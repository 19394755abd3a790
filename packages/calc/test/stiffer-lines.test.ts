import { actuate } from '../src/circuit-checks/actuation.js';
import type { ActuationGroup } from '../src/circuit-checks/actuation.types.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toProofInput } from '../src/circuit-facts/prove-facts.js';
import { toViscosityAt } from '../src/oil/oil-viscosity.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT } from './facts-builder.js';
import { checkOf, part, TIGHT, without } from './facts-checks.js';
import { anActuation } from './proof-builder.js';

const basis = aCircuit();
const circuitWith = (circuit: Partial<CircuitFacts['circuit']>, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({ circuit: { ...basis.circuit, ...circuit }, ...change });
/** Piston over annulus of the clamps of the fixture, which pull. */
const RATIO = Number(ELEMENT.boreM) ** 2 / (Number(ELEMENT.boreM) ** 2 - Number(ELEMENT.rodM) ** 2);
const BAR = 1e5;

describe('oil that is shut in in both lines of a pallet', () => {
  const EXPANSION = 6e-4;
  const WARMS_K = 4;
  const pallet = (unclampBulkModulusPa: number | null, more: Partial<CircuitFacts['circuit']> = {}) =>
    circuitWith(
      {
        ...{ trappedNetExpansionPerK: EXPANSION, trappedBulkModulusPa: 6e8, unclampBulkModulusPa },
        ...{ trappedTemperatureRiseK: WARMS_K, isDecoupled: true, timeWithoutSupplyS: 60, coolingWithoutSupplyK: 0 },
        ...{ isProvedAgain: true, ...more },
      },
      { settings: TIGHT },
    );
  const leftOf = (facts: CircuitFacts) => Number(checkOf(facts, 'holds-without-supply')?.nominal?.capacityPa);
  /** What a modulus makes of the warm-up. */
  const rise = (modulusPa: number) => EXPANSION * WARMS_K * modulusPa;

  it('rises in each by its own walls: a stiff unclamp line takes more of the clamping force', () => {
    // 33.6 bar x 1.694 less 14.4 bar, against 14.4 bar x 0.694.
    expect(leftOf(pallet(6e8)) - leftOf(pallet(14e8))).toBeCloseTo((rise(14e8) - rise(6e8)) * RATIO, 0);
    expect(checkOf(pallet(6e8), 'holds-without-supply')?.status).toBe('holds');
    expect(checkOf(pallet(14e8), 'holds-without-supply')).toMatchObject({ status: 'fails', reason: 'warms-below-required' }); // prettier-ignore
    expect(checkOf(pallet(null), 'holds-without-supply')).toMatchObject({
      ...{ status: 'unproven', missing: [{ field: 'unclampBulkModulusPa', ref: null }] },
    });
  });

  it('warms up once: what is required for a line that can be blocked is not lost a second time', () => {
    const blocked = pallet(6e8, { unclampLineCanBlock: true });
    const { capacityPa, demandPa } = checkOf(blocked, 'holds-without-supply')?.nominal ?? {};
    const open = checkOf(pallet(6e8), 'holds-without-supply')?.nominal;
    expect(Number(demandPa) - Number(open?.demandPa)).toBeCloseTo(rise(6e8) * RATIO, 0);
    // Of the leak, which warmth makes more, nothing is lost twice either.
    expect(Number(capacityPa) - Number(open?.capacityPa)).toBeGreaterThan(0.99 * rise(6e8) * (RATIO - 1));
  });

  it('is told against the ratings of its own line where it is shut in while open', () => {
    // 175 + 3 + 4 bar of gauge and 84 bar of 10 K, against what the unclamp line bears; the clamp line's 36 bar stay within it.
    const facts = (unclampBulkModulusPa: number) =>
      pallet(unclampBulkModulusPa, {
        ...{ trappedTemperatureRiseK: 10, isDecoupled: false, unclampLineCanBlock: true },
      });
    const oneWay = aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp', pulls: false, rodM: 0.001 }] });
    const rated = COMPONENTS.map((one) =>
      one.lineFunctions.includes('unclamp') ? { ...one, figures: { ...one.figures, ratedPressure: 230 * BAR } } : one,
    );
    const governing = (modulusPa: number) =>
      checkOf({ ...facts(modulusPa), fixture: { ...oneWay, ratedPressurePa: 400 * BAR }, components: rated }, 'highest-within-rating'); // prettier-ignore
    expect(governing(6e8)?.status).toBe('holds');
    expect(governing(14e8)).toMatchObject({ status: 'fails', governing: 'trapped-oil' });
  });

  it('does not rise where it does not warm up, whatever nobody has said of its walls', () => {
    expect(checkOf(pallet(null, { trappedTemperatureRiseK: 0 }), 'holds-without-supply')?.status).toBe('holds');
  });
});

describe('behind a reducing valve', () => {
  const WARM = { trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 1e9, unclampBulkModulusPa: 1e9 };
  const reduced = (reducingValveRelieves: boolean | null, trappedTemperatureRiseK = 20) =>
    circuitWith(
      { ...WARM, hasReducingValve: true, canTrap: false, reducingValveRelieves, trappedTemperatureRiseK },
      { components: without('relief-valve') },
    );

  it('of two ports oil is shut in as it warms up; of three it is not; of which nobody has said it is asked', () => {
    // 175 + 20 K x 6e-4 x 10,000 bar = 295 bar, above every rating.
    expect(checkOf(reduced(false), 'highest-within-rating')).toMatchObject({
      status: 'fails',
      governing: 'trapped-oil',
    });
    expect(checkOf(reduced(true), 'highest-within-rating')?.governing).not.toBe('trapped-oil');
    expect(checkOf(reduced(null), 'highest-within-rating')).toMatchObject({ status: 'unproven' });
    expect(checkOf(reduced(null), 'highest-within-rating')?.missing).toContainEqual({ field: 'reducingValveRelieves', ref: null }); // prettier-ignore
  });

  it('no relief elsewhere in the line is known to reach it', () => {
    const relief = part('relief-valve', ['clamp'], { openingPressure: 195e5, fullFlowPressure: 205e5 });
    const input = (relieves: boolean | null) =>
      toProofInput({ ...reduced(relieves), components: [...without('relief-valve'), relief] }).pressureLadder.reliefs;
    expect(input(true)?.map(({ relievesTrappedOil }) => relievesTrappedOil)).toEqual([true]);
    expect(input(false)?.map(({ relievesTrappedOil }) => relievesTrappedOil)).toEqual([false]);
    expect(input(null)?.map(({ relievesTrappedOil }) => relievesTrappedOil)).toEqual([false]);
  });
});

it('the gas of an accumulator presses harder as it is warmer than it was filled', () => {
  const accumulator = part('accumulator', ['clamp'], { prechargePressure: 100e5, ratedPressure: 300e5 });
  const facts = (workingOilTemperatureK: number | null) =>
    aCircuit({
      components: [...COMPONENTS, accumulator],
      powerUnit: { ...basis.powerUnit, workingOilTemperatureK },
    });
  const needs = (workingOilTemperatureK: number | null) =>
    toProofInput(facts(workingOilTemperatureK)).pressureLadder.leastWorking.find(({ ref }) => ref.id === accumulator.id)
      ?.leastWorkingPressurePa;
  // Amontons: p / T stays, of absolute pressure; 101.01325 bar x 333.15 / 293.15 = 114.80 bar.
  expect(Number(needs(333.15))).toBeCloseTo(101.01325e5 * (333.15 / 293.15) - 101_325, 0);
  // Cooler than it was filled it presses less, which is not counted on.
  expect(Number(needs(283.15))).toBeCloseTo(100e5, 0);
  expect(needs(null)).toBeNull();
});

describe('what is lost on the way', () => {
  const [double] = anActuation().groups as [ActuationGroup];
  const coldNu = toViscosityAt(32e-6, 5.4e-6, 283.15);
  const openCold = (change: Parameters<typeof anActuation>[0]) =>
    Number(actuate(anActuation({ isFromFacts: true, groups: [{ ...double, pulls: true }], ...change })).unclampColdS);
  const laminar = (nu: number, lengthM: number, diameterM: number) =>
    (128 * nu * 870 * lengthM) / (Math.PI * diameterM ** 4);
  const valve = (lossAtRatedFlowPa: number, ratedFlowM3PerS: number) => ({
    valve: { ref: double.ref, lossAtRatedFlowPa, ratedFlowM3PerS },
  });

  it('in a valve grows as the oil is thicker than it was rated with', () => {
    // Four times as much at 10 °C, where VG 32 has some four times what it has at 40 °C: as if it were rated so.
    const thicker = coldNu / 32e-6;
    expect(thicker).toBeGreaterThan(3.5);
    const thick = openCold(valve(40e5, 1e-4));
    const rated = openCold({ ...valve(40e5 * thicker, 1e-4), oil: { ...anActuation().oil, viscosityAt40M2PerS: coldNu, viscosityAt100M2PerS: 20e-6, coldTemperatureK: 313.15 } }); // prettier-ignore
    expect(thick / rated).toBeCloseTo(1, 3);
  });

  it('in a valve that passes more than it was rated for grows with the flow', () => {
    // Rated at 0.5 L/min, 1.2 L/min pass: by the square 5.76 times the loss, as if it were rated so at that flow.
    const opened = (lossPa: number, flowM3PerS: number) =>
      openCold({ ...valve(lossPa, flowM3PerS), groups: [{ ...double, pulls: true, rodM: 0 }] });
    const rated = 0.5 / 60_000;
    expect(opened(20e5, rated) / opened(20e5 * 2.4 ** 2, rated * 2.4)).toBeCloseTo(1, 6);
    // Up to its rated flow in proportion: what the line lets down at first is less than that.
    expect(opened(300e5, rated * 24) / opened(600e5, rated * 48)).toBeCloseTo(1, 6);
  });

  it('in a narrow line with thin oil is that of turbulent flow, by Blasius at the most that passes', () => {
    // 12 L/min of 10 mm²/s through 3 mm: Re = 8488, f Re / 64 = 4.37 times laminar flow.
    const nu = 10e-6;
    const thin = {
      ...anActuation().oil,
      viscosityAt40M2PerS: nu,
      viscosityAt100M2PerS: 2.5e-6,
      coldTemperatureK: 313.15,
    };
    const pump = { freeFlowM3PerS: 2e-4, stallPressurePa: 2e7, stallPressureLowPa: 2e7 };
    const narrow = (lengthM: number, innerDiameterM: number) => ({
      ...anActuation().lines,
      supply: [{ ref: double.ref, lengthM, innerDiameterM, isHose: false, expansionModulusPa: null }],
    });
    const reynolds = (4 * 2e-4) / (Math.PI * 0.003 * nu);
    const more = (0.3164 / 64) * reynolds ** 0.75;
    expect(more).toBeGreaterThan(4);
    const turbulent = openCold({ oil: thin, pump, lines: narrow(2, 0.003) });
    // The same loss of a wide line of which oil stays laminar: so much longer.
    const wide = (laminar(nu, 2, 0.003) * more) / laminar(nu, 1, 0.02);
    const straight = openCold({ oil: thin, pump, lines: narrow(wide, 0.02) });
    expect(turbulent / straight).toBeCloseTo(1, 6);
  });

  it('with less air the pump gives less, and clamping takes longer', () => {
    const low = toProofInput(aCircuit({ powerUnit: { ...basis.powerUnit, plantAirLowPa: 4.2e5 } })).actuation.pump;
    const { inUse } = basis.settings;
    expect(Number(low.freeFlowLowM3PerS) / Number(low.freeFlowM3PerS)).toBeCloseTo(
      4.2e5 / Number(inUse?.airPressurePa),
      9,
    );
    const coldOf = (freeFlowLowM3PerS: number) =>
      actuate(anActuation({ isFromFacts: true, groups: [{ ...double, pulls: true }], pump: { ...anActuation().pump, freeFlowLowM3PerS } })).cold; // prettier-ignore
    expect(Number(coldOf(1e-5)?.timeToContactS)).toBeGreaterThan(1.5 * Number(coldOf(2e-5)?.timeToContactS));
  });

  it('at the least counts for the fastest that anything goes: neither the valve nor a fitting', () => {
    const flows = (lossAtRatedFlowPa: number) =>
      actuate(
        anActuation({
          ...{ isFromFacts: true, isReturnFlowAsked: true, groups: [{ ...double, pulls: true }] },
          ...valve(lossAtRatedFlowPa, 1e-4),
        }),
      );
    expect(flows(4e5).flowsM3PerS).toEqual(flows(0).flowsM3PerS);
    expect(flows(4e5).returnFlowsM3PerS).toEqual(flows(0).returnFlowsM3PerS);
    expect(Number(flows(400e5).warm?.timeToContactS)).toBeGreaterThan(Number(flows(0).warm?.timeToContactS));
  });
});
