import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import { aCircuit, aFixture, aSupport, COMPONENTS, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

const { circuit, settings } = aCircuit();
const order = (facts: CircuitFacts) => checkOf(facts, 'order-and-speed');
/** 6 bar for each kelvin of oil that a check valve shuts in, by hand: 6e-4 / K x 10 000 bar. */
const shutIn = (trappedTemperatureRiseK: number | null, change: Partial<CircuitFacts> = {}): CircuitFacts =>
  aCircuit({
    circuit: {
      ...circuit,
      ...{ canTrap: true, isCheckHeld: true, trappedTemperatureRiseK },
      ...{ trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 1e9, unclampBulkModulusPa: 1e9 },
    },
    ...change,
  });

describe('a swing clamp at its arm', () => {
  it('has what its oil rises to where it is shut in and warms up: 175 + 4 + 6 bar for each kelvin against 220 bar', () => {
    expect(order(shutIn(6))?.status).toBe('holds');
    const warm = order(shutIn(8));
    expect(warm).toMatchObject({ status: 'fails', reason: 'pressure-above-arm-chart' });
    expect(warm?.stated).toMatchObject({ demandPa: 179e5 + 48e5, capacityPa: 220e5 });
    const unsaid = order(shutIn(null));
    expect(unsaid?.status).toBe('unproven');
    expect(unsaid?.missing).toContainEqual({ field: 'temperatureRiseK', ref: null });
  });

  it('has no more than a relief lets that its oil reaches, and never less than its setting', () => {
    const relief = (fullFlowPressure: number): ComponentFacts => ({
      ...{ id: 'R', name: 'R', place: 'circuit', kind: 'relief-valve', lineFunctions: ['clamp'], sensing: null },
      figures: { ratedPressure: 400e5, openingPressure: Math.min(185e5, fullFlowPressure), fullFlowPressure },
      isBeyondShutOff: true,
    });
    const held = (fullFlowPressure: number) =>
      order(shutIn(40, { components: [...COMPONENTS, relief(fullFlowPressure)] }));
    expect(held(200e5)?.status).toBe('holds');
    expect(held(225e5)?.status).toBe('fails');
    const weak = aFixture({ elements: [{ ...ELEMENT, armPressurePa: 170e5 }] });
    expect(order(shutIn(40, { fixture: weak, components: [...COMPONENTS, relief(160e5)] }))?.stated?.demandPa).toBe(179e5); // prettier-ignore
  });

  it('that only the error of the gauge takes above its chart is marginal', () => {
    // 179 bar and the 4 bar of a gauge of class 1.6 and 250 bar.
    const at = (armPressurePa: number) =>
      order(aCircuit({ fixture: aFixture({ elements: [{ ...ELEMENT, armPressurePa }] }) }));
    expect(at(183.1e5)?.status).toBe('holds');
    expect(at(182.9e5)).toMatchObject({ status: 'marginal', reason: 'gauge-error-decides' });
    expect(at(178.9e5)?.status).toBe('fails');
  });
});

describe('a sequence valve that may open off where it is said to', () => {
  // Locks at 100 bar; what holds the clamps back opens at 105 bar.
  const facts = (openingTolerance?: number): CircuitFacts =>
    aCircuit({
      fixture: aFixture({ elements: [aSupport({ leastWorkingPressurePa: 100e5 }), ELEMENT] }),
      components: [
        ...COMPONENTS,
        {
          ...{ id: 'V', name: 'V', place: 'circuit', kind: 'sequence-valve', lineFunctions: ['clamp'], sensing: null },
          figures: {
            ...{ ratedPressure: 350e5, openingPressure: 105e5, leastWorkingPressure: 105e5 },
            ...(openingTolerance === undefined ? {} : { openingTolerance }),
          },
        },
      ],
      settings: { ...settings, readings: null },
    });

  it('may let the clamps load the support as much sooner', () => {
    expect(order(facts())).toEqual(order(facts(0)));
    expect(order(facts(4e5))?.reason).not.toBe('support-locks-late');
    expect(order(facts(6e5))).toMatchObject({ status: 'fails', reason: 'support-locks-late' });
  });

  it('may hold them back as much longer', () => {
    const opens = (tolerance?: number) =>
      toMovementInput(facts(tolerance)).actuation.sequenceValves?.map(({ openingPressurePa }) => openingPressurePa);
    expect([opens(), opens(6e5)]).toEqual([[105e5], [111e5]]);
  });
});

describe('a support', () => {
  it('that does not carry what it bears as it is set does not, however far shut-in oil may rise', () => {
    // By hand: 2950 N + 4e-4 N/Pa x 61 bar = 5390 N against 7000 N x 179 / 250 = 5012 N; at the reset point it still carries.
    const supportLoads = [{ elementId: 'support', loadN: 2950, atPressurePa: 118e5, loadPerPaN: 4e-4 }];
    const loaded = (trappedTemperatureRiseK: number | null) =>
      order(
        shutIn(trappedTemperatureRiseK, {
          fixture: aFixture({ elements: [aSupport({ leastWorkingPressurePa: 1e5, ratedPressurePa: 250e5 }), ELEMENT] }),
          operations: aCircuit().operations.map((one) => ({
            ...one,
            requiredBasis: 'computed' as const,
            supportLoads,
          })),
        }),
      );
    for (const riseK of [0, null])
      expect(loaded(riseK)).toMatchObject({ status: 'fails', reason: 'support-overloaded' });
  });

  const leaking = {
    ...settings,
    readings: { ...READINGS, decayPa: 60e5, decayDurationS: 12, oilTemperatureK: 313.15 },
  };
  const bearing = (highestLoadN: number, change: Partial<CircuitFacts> = {}) => {
    const facts = aCircuit({
      fixture: aFixture({ elements: [aSupport({ highestLoadN, leastWorkingPressurePa: 1e5 }), ELEMENT] }),
      ...change,
    });
    return { check: order(facts), lossPa: Number(checkOf(facts, 'holds-workpiece')?.parameters.reactionLossPa) };
  };

  it('carries what is left when the spindle stands still: reset less accuracy, less what leaks while switch and control react', () => {
    const { check, lossPa } = bearing(5000, { settings: leaking });
    expect(lossPa).toBeGreaterThan(5e5);
    expect(check).toMatchObject({ status: 'fails', reason: 'support-overloaded' });
    expect(check?.numbers?.stated?.capacity).toBeCloseTo((7000 * (140e5 - lossPa)) / 250e5, 6);
  });

  it('is not proven where nobody knows by how much the gauge by which it is set may be off', () => {
    const components = COMPONENTS.map((one) => (one.kind === 'gauge' ? { ...one, figures: { span: 250e5 } } : one));
    const { check } = bearing(2000, { components, settings: { ...settings, isAsLeft: false } });
    expect(check?.status).toBe('unproven');
    expect(check?.missing).toEqual([{ field: 'gaugeErrorPa', ref: null }]);
  });

  it('carries less by the error of the gauge, which decides where the rest is enough', () => {
    const { lossPa } = bearing(2000);
    const carried = (errorPa: number) => (7000 * (140e5 - lossPa - errorPa)) / 250e5;
    expect(bearing(carried(4.05e5)).check?.status).toBe('holds');
    expect(bearing(carried(3.9e5)).check).toMatchObject({ status: 'marginal', reason: 'gauge-error-decides' });
    expect(bearing(carried(-0.1e5)).check?.status).toBe('fails');
  });
});
