import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { actuate } from '../src/circuit-checks/actuation.js';
import { toMovementInput } from '../src/circuit-facts/movement-input.js';
import { aCircuit, aControl, aFixture, aNeighbour, COMPONENTS, ELEMENT, READINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';
import { component } from './random-parts.js';

const BAR = 1e5;
const basis = aCircuit();
const statusOf = (facts: CircuitFacts, code: Parameters<typeof checkOf>[1]) => checkOf(facts, code)?.status;
const missingOf = (facts: CircuitFacts, code: Parameters<typeof checkOf>[1]) =>
  checkOf(facts, code)?.missing.map(({ field }) => field);
const withFigures = (kind: ComponentFacts['kind'], figures: Record<string, number>, place?: string) =>
  COMPONENTS.map((one) =>
    one.kind === kind && (place === undefined || one.place === place)
      ? { ...one, figures: { ...one.figures, ...figures } }
      : one,
  );

describe('a valve that springs to the middle', () => {
  const withValve = (valveBehaviour: 'double-centred' | 'double-detented' | null): CircuitFacts => {
    const control = aControl();
    const circuits = control.circuits.map((one) => (one.id === basis.circuit.id ? { ...one, valveBehaviour } : one));
    return aCircuit({
      control: { ...control, circuits },
      powerUnit: { ...basis.powerUnit, drive: 'electric' },
      // Springs return them, so that nothing but the oil of the clamp line is looked at: 175 + 4 + 72 bar of 210 that are allowed.
      fixture: aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp', acting: 'single', springForceN: 300 }] }),
      circuit: {
        ...basis.circuit,
        ...{ trappedTemperatureRiseK: 20, trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 },
      },
    });
  };

  it('shuts oil in that warms up, and one of which nobody has said what it does may', () => {
    expect(checkOf(withValve('double-centred'), 'highest-within-rating')).toMatchObject({
      ...{ status: 'fails', governing: 'trapped-oil' },
    });
    expect(statusOf(withValve('double-detented'), 'highest-within-rating')).toBe('holds');
    expect(statusOf(withValve(null), 'highest-within-rating')).toBe('unproven');
    expect(missingOf(withValve(null), 'highest-within-rating')).toContain('valveBehaviour');
  });
});

describe('a hose of the supply beside a check valve of the supply', () => {
  const burst = 20 / 60_000;
  const hose = (change: Partial<ComponentFacts>): ComponentFacts => ({
    ...component('hose', 'circuit', ['supply'], {
      ...{ ratedPressure: 275 * BAR, innerDiameter: 0.006, length: 1, burstFlow: burst },
    }),
    ...change,
  });
  const valve = (line: 'supply' | 'clamp') => component('check-valve', 'circuit', [line], { ratedPressure: 350 * BAR });
  const held = (parts: readonly ComponentFacts[], circuit: Partial<CircuitFacts['circuit']> = {}) =>
    aCircuit({ components: [...COMPONENTS, ...parts], circuit: { ...basis.circuit, ...circuit } });

  it('lets the clamps go where it lies behind the valve, and is asked for where nobody has said', () => {
    const beside = (isBeyondShutOff: boolean | null) => held([hose({ isBeyondShutOff }), valve('supply')]);
    expect(checkOf(beside(true), 'holds-workpiece')).toMatchObject({ status: 'fails', reason: 'burst-hose' });
    expect(statusOf(beside(null), 'holds-workpiece')).toBe('unproven');
    expect(missingOf(beside(null), 'holds-workpiece')).toContain('isBeyondShutOff');
    // What flows out of it so slowly would be survived on either side.
    const slow = hose({ figures: { ...hose({}).figures, burstFlow: 1e-12 } });
    expect(statusOf(held([slow, valve('supply')]), 'holds-workpiece')).toBe('holds');
    const before = checkOf(beside(false), 'holds-workpiece');
    expect(before?.pairs?.some(({ subject }) => subject?.id === 'circuit hose supply')).toBe(false);
    expect(before?.reason).not.toBe('burst-hose');
  });

  it('lies before a check valve of the clamp line, and the power unit’s own before any of the circuit', () => {
    const isShown = (facts: CircuitFacts): boolean =>
      checkOf(facts, 'holds-workpiece')?.pairs?.some(({ subject }) => subject?.id === 'circuit hose supply') === true;
    expect(isShown(held([hose({}), valve('clamp')]))).toBe(false);
    // Said to be in both lines, it may be in either.
    const either = component('check-valve', 'circuit', ['supply', 'clamp'], { ratedPressure: 350 * BAR });
    expect(isShown(held([hose({ isBeyondShutOff: true }), either]))).toBe(true);
    expect(isShown(held([hose({ place: 'power-unit' }), valve('supply')]))).toBe(false);
    expect(isShown(held([hose({ place: 'power-unit' })]))).toBe(true);
    expect(isShown(held([hose({})], { isCheckHeld: true }))).toBe(true);
  });

  it('is told as a caution where nobody has typed what flows out of it', () => {
    const untyped = hose({ figures: { ratedPressure: 275 * BAR, innerDiameter: 0.006, length: 1 } });
    const check = checkOf(held([untyped, valve('supply')]), 'holds-workpiece');
    expect(check?.pairs).toContainEqual(
      expect.objectContaining({ reason: 'burst-hose', status: 'marginal', subject: expect.objectContaining({ id: untyped.id }) as object }), // prettier-ignore
    );
  });
});

describe('ratings', () => {
  it('of a hose are no more than a quarter of what it bursts at: 600 bar are 150 of 275 (SAE J517, factor 4, from memory)', () => {
    const components = withFigures('hose', { burstPressure: 600 * BAR });
    const check = checkOf(aCircuit({ components }), 'setting-within-rating');
    expect(check).toMatchObject({ status: 'fails', reason: 'above-rating' });
    expect(check?.stated?.capacityPa).toBeCloseTo(150 * BAR, 3);
    expect(
      statusOf(aCircuit({ components: withFigures('hose', { burstPressure: 1100 * BAR }) }), 'setting-within-rating'),
    ).toBe('holds');
  });

  it('of a gauge are no more than its span: 204 bar at the highest air do not stand on a scale of 200', () => {
    const components = withFigures('gauge', { span: 200 * BAR });
    expect(checkOf(aCircuit({ components }), 'highest-within-rating')).toMatchObject({
      ...{ status: 'fails', subject: { name: expect.stringContaining('gauge') as string } },
    });
  });
});

describe('the window of a setting', () => {
  it('is not known to be there before it is known what is required', () => {
    const limited = (requiredPressurePa: number | null) =>
      aCircuit({
        operations: basis.operations.map((one) => ({
          ...{ ...one, requiredPressurePa },
          ...{ workpieceLimitPa: 200 * BAR, workpieceNotLimiting: false },
        })),
        circuit: { ...basis.circuit, trappedTemperatureRiseK: 0 },
      });
    expect(statusOf(limited(118 * BAR), 'workpiece-limit')).toBe('holds');
    expect(statusOf(limited(null), 'workpiece-limit')).toBe('unproven');
    expect(missingOf(limited(null), 'workpiece-limit')).toContain('requiredPressurePa');
    expect(checkOf(limited(220 * BAR), 'workpiece-limit')).toMatchObject({ status: 'fails', reason: 'no-window' });
  });
});

describe('an accumulator of the power unit', () => {
  it('gives its oil back to the reservoir as well: 4 L do not go into 1 L that is free', () => {
    const tank = withFigures('reservoir', { freeVolume: 1e-3 });
    const stored = (place: 'power-unit' | 'circuit') =>
      component('accumulator', place, ['supply'], {
        ratedPressure: 350 * BAR,
        size: 4e-3,
        prechargePressure: 90 * BAR,
      });
    expect(statusOf(aCircuit({ components: tank }), 'reservoir')).toBe('holds');
    for (const place of ['power-unit', 'circuit'] as const) {
      expect(checkOf(aCircuit({ components: [...tank, stored(place)] }), 'reservoir')?.status).toBe('fails');
    }
    // Once, however many circuits it feeds.
    const [alone, beside] = [[], [aNeighbour()]].map(
      (neighbours) =>
        checkOf(aCircuit({ components: [...tank, stored('power-unit')], neighbours }), 'reservoir')?.numbers?.stated
          ?.demand,
    );
    expect(Number(beside) - Number(alone)).toBeLessThan(1e-3);
  });
});

describe('the lowest pressure while another station clamps', () => {
  it('read on a coarse gauge is no surer for the fine one that a target is set by: 147 bar may be 137', () => {
    const coarse = {
      ...READINGS,
      oilTemperatureK: 313.15,
      lowestWhileSharedPa: 147 * BAR,
      gaugeSpanPa: 250 * BAR,
      gaugeClass: 4,
    };
    const inUse = basis.settings.inUse && { ...basis.settings.inUse, setPointPa: 150 * BAR, resetPointPa: 142 * BAR };
    const withReading = (isAsLeft: boolean, change: Partial<typeof READINGS> = {}) =>
      aCircuit({
        components: withFigures('gauge', { span: 250 * BAR, accuracyClass: 0.25 }),
        settings: { inUse, isAsLeft, readings: { ...coarse, ...change } },
      });
    expect(statusOf(withReading(true), 'shared-supply')).toBe('fails');
    const target = checkOf(withReading(false), 'shared-supply');
    expect(target).toMatchObject({ status: 'fails', reason: 'other-station-pulls-down' });
    // 147 less 10 bar, by the reading's own gauge.
    expect(target?.stated?.capacityPa).toBeCloseTo(137 * BAR, 3);
    expect(statusOf(withReading(false, { gaugeClass: 0.25 }), 'shared-supply')).toBe('holds');
    expect(missingOf(withReading(false, { gaugeClass: null }), 'shared-supply')).toContain('readingErrorPa');
  });
});

describe('a time to open that was read with warm oil', () => {
  it('is as much longer with the coldest as the transient says: what was left out of that grows with the viscosity too', () => {
    const read = (unclampTimeS: number, unclampTimeAllowedS: number) =>
      aCircuit({
        settings: {
          ...basis.settings,
          readings: { ...READINGS, unclampTimeS, timeToleranceS: 0.1, oilTemperatureK: 313.15 },
        },
        circuit: { ...basis.circuit, unclampTimeAllowedS },
      });
    const { unclampWarmS, unclampColdS } = actuate(toMovementInput(read(1.5, 6)).actuation);
    const share = Number(unclampColdS) / Number(unclampWarmS);
    expect(share).toBeGreaterThan(1.02);
    const longest = 1.5 * share + 0.1;
    expect(statusOf(read(1.5, longest / 0.99), 'unclamping')).not.toBe('fails');
    expect(checkOf(read(1.5, longest * 0.99), 'unclamping')).toMatchObject({
      ...{ status: 'fails', reason: 'unclamps-too-slowly' },
    });
  });
});

describe('a piloted check valve', () => {
  const valve = (figures: Record<string, number>) =>
    component('check-valve', 'circuit', ['clamp'], { ratedPressure: 500 * BAR, ...figures });
  // 40 K of 0.6 GPa and 6e-4 each kelvin are 144 bar: 175 + 4 + 144 bar are shut in, and 175 - 4 bar the least at the pilot.
  const behind = (figures: Record<string, number>, temperatureRiseK: number | null = 40) =>
    aCircuit({
      components: [...COMPONENTS, valve(figures)],
      circuit: {
        ...basis.circuit,
        ...{ isCheckHeld: true, canTrap: true, trappedTemperatureRiseK: temperatureRiseK },
        ...{ trappedNetExpansionPerK: 6e-4, trappedBulkModulusPa: 6e8 },
      },
    });

  it('does not open against oil that has warmed up, where its ratio is too small for the lowest of the setting', () => {
    const [needed, least] = [175 + 4 + 144, 175 - 4];
    const stuck = checkOf(behind({ pilotRatio: (needed / least) * 0.98 }), 'unclamping');
    expect(stuck).toMatchObject({
      status: 'fails',
      reason: 'pilot-too-weak',
      subject: { id: 'circuit check-valve clamp' },
    });
    expect(checkOf(behind({ pilotRatio: 3 }), 'unclamping')?.reason).not.toBe('pilot-too-weak');
  });

  it('is asked for its ratio where oil warms up behind it', () => {
    expect(statusOf(behind({}), 'unclamping')).toBe('unproven');
    expect(missingOf(behind({}), 'unclamping')).toContain('pilotRatio');
    expect(missingOf(behind({}, null), 'unclamping')).toContain('pilotRatio');
    const pushing = { fixture: aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp' }] }) };
    expect(missingOf({ ...behind({}, 0), ...pushing }, 'unclamping')).not.toContain('pilotRatio');
    expect(missingOf({ ...behind({}, 40), ...pushing }, 'unclamping')).toContain('pilotRatio');
    // Said to hold, and none is fitted.
    const unfitted = { ...behind({}), components: COMPONENTS };
    expect(missingOf(unfitted, 'unclamping')).toContain('pilotRatio');
    // A check valve of the tank line is another one.
    const inTank = component('check-valve', 'circuit', ['tank'], { ratedPressure: 500 * BAR, pilotRatio: 3 });
    expect(missingOf({ ...unfitted, components: [...COMPONENTS, inTank] }, 'unclamping')).toContain('pilotRatio');
  });

  // What opens it presses upon the piston, and raises what is shut in by piston over annulus: 25/16 mm make 1.69.
  it('never opens behind a clamp that pulls, where its ratio is below the ratio of areas', () => {
    expect(checkOf(behind({ pilotRatio: 1.6 }, 0), 'unclamping')).toMatchObject({
      ...{ status: 'fails', reason: 'pilot-below-areas' },
    });
    expect(checkOf(behind({ pilotRatio: 1.8 }, 0), 'unclamping')?.reason).not.toBe('pilot-below-areas');
    expect(missingOf(behind({}, 0), 'unclamping')).toContain('pilotRatio');
    const unmeasured = {
      ...behind({ pilotRatio: 1.8 }, 0),
      fixture: aFixture({ elements: [{ ...ELEMENT, rodM: null }] }),
    };
    expect(missingOf(unmeasured, 'unclamping')).toContain('rodSideAreaRatio');
  });

  it('opens against what stands behind it as well: a third of 179 bar and two thirds of 180 bar in the tank line are more than 171', () => {
    const standing = (returnPressurePa: number | null) => ({
      ...behind({ pilotRatio: 3 }, 0),
      circuit: { ...behind({}, 0).circuit, returnPressurePa },
    });
    const needed = 179 / 3 + (2 / 3) * 180;
    expect(needed).toBeGreaterThan(175 - 4);
    const pilots = (facts: CircuitFacts) =>
      checkOf(facts, 'unclamping')?.pairs?.filter(({ reason }) => reason === 'pilot-too-weak');
    expect(pilots(standing(180 * BAR))).toHaveLength(1);
    expect(pilots(standing(150 * BAR))).toEqual([]);
  });
});

describe('a reducing valve', () => {
  const low = basis.settings.inUse && { ...basis.settings.inUse, settingPa: 125 * BAR, setPointPa: 110 * BAR, resetPointPa: 100 * BAR }; // prettier-ignore
  const reduced = (lines: ComponentFacts['lineFunctions']) =>
    aCircuit({
      components: [...COMPONENTS, component('reducing-valve', 'circuit', lines, { ratedPressure: 350 * BAR })],
      settings: { ...basis.settings, inUse: low },
    });

  it('of the unclamp line or the tank line leaves the clamps what the pump stalls at: 176.4 bar, set to 125', () => {
    for (const lines of [['unclamp'], ['tank'], []] as const)
      expect(checkOf(reduced(lines), 'setting-within-rating')).toMatchObject({
        ...{ status: 'fails', reason: 'stall-above-setting' },
      });
    for (const lines of [['supply'], ['clamp']] as const)
      expect(checkOf(reduced(lines), 'setting-within-rating')?.reason).not.toBe('stall-above-setting');
  });
});

describe('a switch before a sequence valve of the clamp line', () => {
  it('is made by what stands before the valve, whatever the clamps have', () => {
    const sensing = (isBeyondShutOff: boolean | null) =>
      aCircuit({
        components: [
          ...COMPONENTS.map((one) =>
            one.kind === 'pressure-switch' ? { ...one, sensing: 'clamp-line' as const, isBeyondShutOff } : one,
          ),
          component('sequence-valve', 'circuit', ['clamp'], {
            ...{ ratedPressure: 350 * BAR, openingPressure: 40 * BAR, leastWorkingPressure: 40 * BAR },
          }),
        ],
      });
    expect(checkOf(sensing(false), 'holds-workpiece')).toMatchObject({
      ...{ status: 'fails', reason: 'switch-senses-supply' },
    });
    expect(missingOf(sensing(null), 'holds-workpiece')).toContain('sensing');
    expect(checkOf(sensing(true), 'holds-workpiece')?.reason).not.toBe('switch-senses-supply');
  });
});
