import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { aCircuit, aFixture, COMPONENTS, ELEMENT, SETTINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const BAR = 1e5;
const basis = aCircuit();

/** Beside the air-driven pump nothing shuts oil in, it says; 20 K, and 6e-4 of net expansion with 1e9 Pa of oil and walls. */
const warmedUp = (change: Partial<CircuitFacts> = {}, circuit: Partial<CircuitFacts['circuit']> = {}): CircuitFacts =>
  aCircuit({
    circuit: {
      ...basis.circuit,
      ...{ trappedTemperatureRiseK: 20, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 1e9 },
      ...circuit,
    },
    ...change,
  });
const withoutRelief = { components: COMPONENTS.filter(({ kind }) => kind !== 'relief-valve') };
const highestOf = (facts: CircuitFacts) => checkOf(facts, 'highest-within-rating');

/** Trapped oil: net expansion x rise x modulus of oil and walls together; outlet check valves of air-driven pumps: common practice, no source. */
describe('oil behind an air-driven pump', () => {
  it('is shut in whenever the pump stands, whatever is said: 175 + 4 + 120 bar of 210', () => {
    expect(highestOf(warmedUp(withoutRelief))).toMatchObject({ status: 'fails', governing: 'trapped-oil' });
    expect(highestOf(warmedUp(withoutRelief))?.parameters.thermalRisePa).toBeCloseTo(120 * BAR, 3);
    const electric = { ...basis.powerUnit, drive: 'electric' as const };
    expect(highestOf(warmedUp({ ...withoutRelief, powerUnit: electric }))?.governing).not.toBe('trapped-oil');
  });

  it('is shut in behind another pump where a check valve holds it, which is asked for while nobody has said', () => {
    const powerUnit = { ...basis.powerUnit, drive: 'electric' as const };
    const fixture = aFixture({ elements: [{ ...ELEMENT, acting: 'single', springForceN: 300 }] });
    const held = (isCheckHeld: boolean | null) => highestOf(warmedUp({ powerUnit, fixture }, { isCheckHeld }));
    expect(held(true)).toMatchObject({ status: 'fails', governing: 'trapped-oil' });
    expect(held(false)?.status).toBe('holds');
    expect(held(null)?.status).toBe('unproven');
    expect(held(null)?.missing).toContainEqual({ field: 'isCheckHeld', ref: null });
  });

  it('whose warming nobody has said is asked for it', () => {
    const asked = highestOf(warmedUp(withoutRelief, { trappedTemperatureRiseK: null }));
    expect(asked).toMatchObject({ status: 'unproven' });
    expect(asked?.missing).toContainEqual({ field: 'temperatureRiseK', ref: null });
  });

  it('finds a relief of the supply line, and no more than that: it stands 205 bar at full flow, above 200 of the pump', () => {
    expect(highestOf(warmedUp())?.status).toBe('holds');
    const rated = (bar: number) => ({ fixture: basis.fixture && { ...basis.fixture, ratedPressurePa: bar * BAR } });
    // The pump's 200 bar of highest air would be borne; what the relief leaves of oil that warms up would not.
    const airHigh = { ...basis.powerUnit, plantAirHighPa: 4.9e5 };
    expect(highestOf(warmedUp({ ...rated(201), powerUnit: airHigh }))).toMatchObject({
      status: 'fails',
      governing: 'trapped-oil',
    });
    expect(highestOf(warmedUp({ ...rated(201), powerUnit: airHigh }, { trappedTemperatureRiseK: 0 }))?.governing).toBe(
      'source',
    );
  });

  it('does not find that relief from behind a check valve, a coupling or a reducing valve, nor one of which nobody knows what it lets through', () => {
    const behind = (change: Partial<CircuitFacts['circuit']>) => highestOf(warmedUp({}, change))?.status;
    expect(behind({ isCheckHeld: true })).toBe('fails');
    expect(behind({ isDecoupled: true })).toBe('fails');
    expect(behind({ hasReducingValve: true, reducingValveRelieves: false })).toBe('fails');
    const unknown = COMPONENTS.map((one) =>
      one.kind === 'relief-valve' ? { ...one, figures: { openingPressure: 190 * BAR } } : one,
    );
    expect(highestOf(warmedUp({ components: unknown }))?.status).not.toBe('holds');
  });

  it('presses on the workpiece as well, as far as the relief lets it', () => {
    const limit = (workpieceLimitPa: number) =>
      checkOf(
        warmedUp({
          operations: basis.operations.map((one) => ({ ...one, workpieceLimitPa, workpieceNotLimiting: false })),
          settings: { ...basis.settings, inUse: SETTINGS },
        }),
        'workpiece-limit',
      )?.status;
    expect(limit(190 * BAR)).not.toBe('holds');
    expect(limit(320 * BAR)).toBe('holds');
  });
});
