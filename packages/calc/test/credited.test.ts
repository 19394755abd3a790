import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts, toProofInput } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aControl, COMPONENTS, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf, leakShareOf, TIGHT, withFigures } from './facts-checks.js';

const READ_AT_WORK = { inUse: SETTINGS, isAsLeft: true, readings: { ...READINGS, oilTemperatureK: 313.15 } };

describe('what was read at the machine', () => {
  const settings = (readings: object, inUse: object = {}) => ({
    settings: { inUse: { ...SETTINGS, ...inUse }, isAsLeft: false, readings: { ...READINGS, ...readings } },
  });
  const inputOf = (change: Partial<CircuitFacts>) => toProofInput(aCircuit(change));

  it.each([
    ['another fixture', settings({ fixtureId: 'another' })],
    ['no fixture', { fixture: null }],
    ['another air', settings({ airPressurePa: 4.4e5 })],
    ['another setting', settings({ settingPa: 170e5 })],
  ])('says nothing of times and of a neighbour’s pull with %s', (_what, change) => {
    const { measured, sharedSupply } = inputOf(change);
    expect(measured).toBeNull();
    expect(sharedSupply.others[0]?.lowestPressurePa).toBeNull();
  });

  it('says how large a leak is with its own fixture: 3 and 4 bar of the gauge in 300 s at 175 bar, and in proportion above', () => {
    const leakOf = (change: Partial<CircuitFacts>) => inputOf(change).pressureLadder.hold.decayRatePaPerS;
    const atWork = { oilTemperatureK: 313.15 };
    // Fastest as the test began: p = p0 e^(-kt).
    const startsBy = (175e5 * Math.log(175 / 168)) / 300;
    expect(leakOf(settings(atWork, { settingPa: 160e5 }))).toBeCloseTo(startsBy, 6);
    expect(leakOf(settings(atWork, { settingPa: 210e5 }))).toBeCloseTo(1.2 * startsBy, 6);
    // What is all gone at its end may have been so, but for a hundredth, within a second.
    expect(leakOf(settings({ ...atWork, decayPa: 300e5 }))).toBeCloseTo(175e5 * Math.log(100), 6);
    expect(leakOf(settings({ ...atWork, decayPa: 300e5, decayDurationS: 0.5 }))).toBeCloseTo(350e5 * Math.log(100), 6);
    expect(leakOf(settings({}, { settingPa: null }))).toBeNull();
    for (const unknown of [{ settingPa: null }, { settingPa: 0 }, { decayPa: null }, { fixtureId: 'another' }]) {
      expect(leakOf(settings(unknown))).toBeNull();
    }
    expect(leakOf({ fixture: null })).toBeNull();
  });
});

describe('what a circuit must not be credited with', () => {
  const TRAPPED = {
    canTrap: true,
    trappedTemperatureRiseK: 40,
    trappedNetExpansionPerK: 6e-4,
    trappedBulkModulusPa: 1e9,
    unclampBulkModulusPa: 1e9,
  };
  const relief = (place: ComponentFacts['place'], lineFunctions: ComponentFacts['lineFunctions']) =>
    COMPONENTS.map((component) =>
      component.kind === 'relief-valve' ? { ...component, place, lineFunctions } : component,
    );

  it('a relief that oil shut in cannot reach: 175 + 4 bar warmed by 40 K rise by 240 bar, whatever the pump may do', () => {
    const { circuit } = aCircuit();
    const facts = aCircuit({ circuit: { ...circuit, ...TRAPPED } });
    const check = checkOf(facts, 'highest-within-rating');
    expect(check).toMatchObject({ status: 'fails', reason: 'trapped-oil-above-rating' });
    // 175 + 4 + 40 × 6e-4 × 1e9 Pa, by hand.
    expect(check?.stated?.demandPa).toBeCloseTo(179e5 + 240e5, 3);
    // A relief of the circuit's own on the supply side of its check valve does not help; one on the clamp line does.
    expect(checkOf({ ...facts, components: relief('circuit', ['supply']) }, 'highest-within-rating')?.status).toBe(
      'fails',
    );
    expect(checkOf({ ...facts, components: relief('circuit', ['clamp']) }, 'highest-within-rating')?.status).toBe(
      'holds',
    );
  });

  it.each(['holds-workpiece', 'clamping-time', 'interlock-sound'])(
    'a switch before the check valve tells nothing of the clamps: %s',
    (code) => {
      const { circuit } = aCircuit();
      const held = { circuit: { ...circuit, isCheckHeld: true } };
      const sensing = (at: ComponentFacts['sensing']) =>
        COMPONENTS.map((component) =>
          component.kind === 'pressure-switch' ? { ...component, sensing: at } : component,
        );
      expect(checkOf(aCircuit({ ...held, components: sensing('manifold') }), code)).toMatchObject({
        status: 'fails',
        reason: 'switch-senses-supply',
      });
      const unsaid = checkOf(aCircuit({ ...held, components: sensing(null) }), code);
      expect(unsaid?.status).toBe('unproven');
      expect(unsaid?.missing).toContainEqual({ field: 'sensing', ref: null });
      const inLine = (isBeyondShutOff: boolean | null) =>
        sensing('clamp-line').map((one) => (one.kind === 'pressure-switch' ? { ...one, isBeyondShutOff } : one));
      const statuses = [true, false, null].map((isBeyond) => checkOf(aCircuit({ ...held, components: inLine(isBeyond) }), code)?.status); // prettier-ignore
      expect(statuses).toEqual(['holds', 'fails', 'unproven']);
      expect(checkOf(aCircuit({ components: sensing('pump') }), code)?.status).not.toBe('unproven');
    },
  );

  it('a switch before the check valve proves nothing again, and what fails already goes on failing', () => {
    const { circuit, settings } = aCircuit();
    const alone = {
      isDecoupled: true,
      timeWithoutSupplyS: 600,
      coolingWithoutSupplyK: 1,
      isProvedAgain: true,
      ...{ ...TRAPPED, trappedTemperatureRiseK: 1 },
    };
    const components = COMPONENTS.map((component) => ({ ...component, sensing: null }));
    const facts = aCircuit({
      circuit: { ...circuit, ...alone, isCheckHeld: true },
      components,
      settings: TIGHT,
    });
    expect(checkOf(facts, 'holds-without-supply')).toMatchObject({ status: 'unproven' });
    const low = { ...settings, inUse: { ...SETTINGS, resetPointPa: 90e5 } };
    expect(checkOf({ ...facts, settings: low }, 'holds-workpiece')).toMatchObject({
      status: 'fails',
      reason: 'below-required',
    });
  });

  it('the setting, where the pump stalls below it at the lowest plant air: 40 × 0.98 × 3.8 bar is 148.96 bar', () => {
    const { powerUnit } = aCircuit();
    const low = { powerUnit: { ...powerUnit, plantAirLowPa: 3.8e5 } };
    expect(checkOf(aCircuit(low), 'no-nuisance-stop')).toMatchObject({
      status: 'fails',
      reason: 'set-point-above-stall',
      stated: { demandPa: 152e5, capacityPa: 148.96e5 },
    });
    const stall = toProofInput(aCircuit(low)).pressureLadder;
    expect(stall.isFromFacts).toBe(true);
    expect(
      proveFacts(aCircuit(low)).rungs.find(({ code }) => code === 'setting')?.parameters.stallAtLowAirPa,
    ).toBeCloseTo(148.96e5, 3);
    // With more plant air than the regulator is set to, the lowest is what it is set to; of a regulator that nobody has spoken of, nothing is told.
    const stalls = (change: Parameters<typeof aCircuit>[0]) =>
      proveFacts(aCircuit(change)).rungs.find(({ code }) => code === 'setting')?.parameters;
    const plenty = stalls({ powerUnit: { ...powerUnit, plantAirLowPa: 6e5 } });
    expect(plenty).toMatchObject({ stallAtSetAirPa: 40 * 0.98 * 4.5e5, stallAtLowAirPa: 40 * 0.98 * 4.5e5 });
    const { settings } = aCircuit();
    const unset = stalls({ settings: { ...settings, inUse: { ...SETTINGS, airPressurePa: null } } });
    expect(unset).not.toHaveProperty('stallAtLowAirPa');
    // What another circuit's clamping leaves, and what the pump restarts at, are no more than that.
    const atWork = { oilTemperatureK: 313.15 };
    const noDip = { settings: { ...settings, readings: { ...READINGS, ...atWork, lowestWhileSharedPa: 190e5 } } };
    const dip = { settings: { ...settings, readings: { ...READINGS, ...atWork, lowestWhileSharedPa: 158e5 } } };
    expect(checkOf(aCircuit({ ...low, ...noDip }), 'shared-supply')?.stated?.capacityPa).toBeCloseTo(148.96e5, 3);
    // What was read while another one clamped goes with the air: 158 bar at 4.5 bar, at 3.8 bar so much less.
    expect(checkOf(aCircuit({ ...low, ...dip }), 'shared-supply')?.stated?.capacityPa).toBeCloseTo(
      (158e5 * 3.8) / 4.5,
      3,
    );
    const unknown = { powerUnit: { ...powerUnit, plantAirLowPa: null } };
    for (const code of ['no-nuisance-stop', 'shared-supply'])
      expect(checkOf(aCircuit(unknown), code)?.status).toBe('unproven');
  });

  it('a relief in another line, or one that passes its flow below where it opens; the better of two switches', () => {
    const { relief: inTank } = toProofInput(aCircuit({ components: relief('power-unit', ['tank']) })).pressureLadder;
    expect(inTank).toBeNull();
    const opening = COMPONENTS.map((component) =>
      component.kind === 'relief-valve' ? { ...component, figures: { openingPressure: 190e5 } } : component,
    );
    expect(toProofInput(aCircuit({ components: opening })).pressureLadder.relief?.fullFlowPressurePa).toBeNull();
    const passing = COMPONENTS.map((component) =>
      component.kind === 'relief-valve' ? { ...component, figures: { fullFlowPressure: 200e5 } } : component,
    );
    expect(toProofInput(aCircuit({ components: passing })).pressureLadder.relief?.fullFlowPressurePa).toBe(200e5);
    const odd = withFigures('relief-valve', { fullFlowPressure: 150e5 });
    expect(toProofInput(aCircuit({ components: odd })).pressureLadder.relief?.fullFlowPressurePa).toBe(190e5);
    const [second] = COMPONENTS.filter(({ kind }) => kind === 'pressure-switch').map((component) => ({
      ...component,
      id: 'second',
      sensing: 'pump' as const,
      figures: { accuracy: 30e5, delay: 5 },
    }));
    const both = second === undefined ? COMPONENTS : [...COMPONENTS, second];
    const { circuit } = aCircuit();
    const ladder = toProofInput(
      aCircuit({ components: both, circuit: { ...circuit, isCheckHeld: true } }),
    ).pressureLadder;
    expect(ladder).toMatchObject({ switchAccuracyPa: 30e5, hold: { reactionTimeS: 6.2 }, sensesClamps: false });
    // Those of the power unit count where the circuit has none.
    const ofUnit = COMPONENTS.map((component) => ({ ...component, place: 'power-unit' as const }));
    expect(toProofInput(aCircuit({ components: ofUnit })).pressureLadder.switchAccuracyPa).toBe(2e5);
    expect(toProofInput(aCircuit({ components: [] })).pressureLadder).toMatchObject({
      switchAccuracyPa: null,
      sensesClamps: null,
    });
  });

  it('oil that cannot be shut in, where a pallet is decoupled or a check valve holds it; a restart above the setting', () => {
    const { circuit, settings } = aCircuit();
    for (const change of [{ isDecoupled: true }, { isCheckHeld: true }]) {
      expect(toProofInput(aCircuit({ circuit: { ...circuit, ...change } })).pressureLadder.thermal.canTrap).toBe(true);
    }
    const high = {
      ...settings,
      inUse: { ...SETTINGS, pumpRestartPa: 190e5 },
      readings: { ...READINGS, lowestWhileSharedPa: 188e5 },
    };
    expect(checkOf(aCircuit({ settings: high }), 'shared-supply')?.stated?.capacityPa).toBe(171e5);
  });

  it('more pressure than the pump may have left: without supply it starts from restart less its tolerance', () => {
    const { circuit } = aCircuit();
    const alone = { isDecoupled: true, timeWithoutSupplyS: 600, coolingWithoutSupplyK: 0, isProvedAgain: true };
    const trapped = {
      trappedNetExpansionPerK: 6e-4,
      trappedBulkModulusPa: 1e9,
      unclampBulkModulusPa: 1e9,
      trappedTemperatureRiseK: 0,
    };
    const facts = aCircuit({ circuit: { ...circuit, ...alone, ...trapped }, settings: READ_AT_WORK });
    // 160 − 3 bar, less 7 bar of 175 in 300 s, as fast as at its start, for 600 s, by hand, and what works against the clamps of it from behind.
    const left = 157e5 - 2 * 175e5 * Math.log(175 / 168) * leakShareOf(facts);
    expect(checkOf(facts, 'holds-without-supply')?.stated?.capacityPa).toBeCloseTo(left, 3);
  });

  it('a check that holds by its tolerances and too seldom by its errors', () => {
    const settings = { ...aCircuit().settings, inUse: { ...SETTINGS, resetPointPa: 122e5 } };
    const marginsAsked = { ...aCircuit().marginsAsked, 'holds-workpiece': 0 };
    const facts = aCircuit({ settings, marginsAsked, circuit: { ...aCircuit().circuit, returnPressurePa: 0 } });
    // 122 − 2 over 118.01 required: the tolerance leaves 2 bar, the gauge is off by up to 4.
    const check = checkOf(facts, 'holds-workpiece');
    expect(check?.probability).toBeLessThan(0.95);
    expect(check).toMatchObject({ status: 'fails', reason: 'probability-too-low' });
    expect(checkOf({ ...facts, leastProbability: 0.5 }, 'holds-workpiece')).toMatchObject({
      status: 'marginal',
      reason: 'gauge-error-decides',
    });
  });

  it("a switch whose delay nobody knows, an inrush whose limit nobody knows, a coil that gets the whole supply's voltage", () => {
    const undelayed = COMPONENTS.map((component) =>
      component.kind === 'pressure-switch'
        ? { ...component, figures: { ratedPressure: 400e5, accuracy: 2e5 } }
        : component,
    );
    expect(checkOf(aCircuit({ components: undelayed }), 'holds-workpiece')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'reactionTimeS' }],
    });
    const control = aControl();
    const machine = (change: object) =>
      aCircuit({ control: { ...control, machine: { ...control.machine, ...change } } });
    expect(checkOf(machine({ supplyPeakW: null }), 'control-wiring')?.status).toBe('unproven');
    // 27 V is more than a coil of 24 V ± 10 % bears, however long its wires are.
    const far = control.wires.map((wire) => ({ ...wire, lengthM: 60 }));
    const high = { ...control, machine: { ...control.machine, controlVoltageV: 27 }, wires: far };
    expect(checkOf(aCircuit({ control: high }), 'control-wiring')).toMatchObject({
      status: 'fails',
      reason: 'voltage-at-coil',
    });
  });
});
