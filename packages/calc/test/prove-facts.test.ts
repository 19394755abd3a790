import { proveFormer } from '../src/circuit-facts/former-inputs.js';
import { proveFacts, toProofInput } from '../src/circuit-facts/prove-facts.js';
import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import {
  aCircuit,
  aControl,
  aFixture,
  aNeighbour,
  aRandomCircuit,
  COMPONENTS,
  READINGS,
  SETTINGS,
} from './facts-builder.js';
import { checkOf, withFigures, without } from './facts-checks.js';

describe('a circuit from what is recorded of it', () => {
  it('holds in every check when all is known and within', () => {
    const { status, checks } = proveFacts(aCircuit());
    expect(status).toBe('holds');
    expect(checks).toHaveLength(13);
  });

  it('never throws, whatever is known', () => {
    for (let seed = 0; seed < 100; seed += 1) expect(proveFacts(aRandomCircuit(seed)).checks).toHaveLength(13);
  });

  it('says what is missing where nothing is known', () => {
    const facts = aCircuit();
    const bare = proveFacts({
      ...facts,
      components: [],
      fixture: null,
      operations: [],
      settings: { inUse: null, isAsLeft: false, readings: null },
      control: aControl({ signals: [], wires: [], mCodes: [] }),
    });
    expect(bare.status).toBe('unproven');
    for (const check of bare.checks.filter(({ status }) => status === 'unproven'))
      expect(check.missing).not.toEqual([]);
  });
});

describe('the input of an older sizing record', () => {
  const { pressureLadder, sharedSupply, withoutSupply, marginsAsked, ...parts } = toProofInput(aCircuit());
  const supply = { pressureLadder, sharedSupply, withoutSupply, marginsAsked };

  it('of format 3 is proved as it was', () => {
    const further = { ...parts, marginsAsked: { ...marginsAsked, 'control-wiring': 0, 'interlock-sound': 0 } };
    expect(proveFormer({ ...supply, further })).toEqual(proveFacts(aCircuit()));
  });

  it('of format 2 has no checks but those of pressure ladder and supply', () => {
    const codes = proveFormer(supply).checks.map(({ code }) => code);
    expect(codes.slice(4)).toEqual(['workpiece-limit', 'shared-supply', 'holds-without-supply']);
  });
});

describe('the pressure ladder of a circuit', () => {
  const pressureLadderOf = (change: Partial<CircuitFacts>) => toProofInput(aCircuit(change)).pressureLadder;

  it("takes the gauge's error of its class at room temperature, 1.6 % of 250 bar", () => {
    // Source: EN 837-1:1996, Table 11; by hand.
    expect(pressureLadderOf({}).gaugeErrorPa).toBeCloseTo(4e5, 6);
  });

  it("takes the error of the gauge that is fitted where a target is proved, else that of the readings' gauge", () => {
    const target = { inUse: SETTINGS, isAsLeft: false, readings: { ...READINGS, gaugeClass: 1 } };
    expect(pressureLadderOf({ settings: target }).gaugeErrorPa).toBeCloseTo(4e5, 6);
    expect(pressureLadderOf({ settings: target, components: without('gauge') }).gaugeErrorPa).toBeCloseTo(2.5e5, 6);
    expect(
      pressureLadderOf({ settings: { ...target, readings: null }, components: without('gauge') }).gaugeErrorPa,
    ).toBeNull();
    const unread = { inUse: SETTINGS, isAsLeft: true, readings: { ...READINGS, gaugeClass: null } };
    expect(pressureLadderOf({ settings: unread }).gaugeErrorPa).toBeNull();
  });

  it("reckons with the reaction of the control and the switch's delay", () => {
    // 3 bar, and 4 bar of the gauge, of 175 in 300 s: fastest as the test began, p = p0 e^(-kt).
    const atWork = { inUse: SETTINGS, isAsLeft: true, readings: { ...READINGS, oilTemperatureK: 313.15 } };
    expect(pressureLadderOf({ settings: atWork }).hold).toMatchObject({
      decayRatePaPerS: expect.closeTo((175e5 * Math.log(175 / 168)) / 300, 6),
      reactionTimeS: 1.2 + 0.02,
    });
    const control = aControl();
    const machine = { ...control.machine, controlReactionS: null };
    expect(pressureLadderOf({ control: { ...control, machine } }).hold.reactionTimeS).toBeNull();
    const readings = { ...READINGS, decayDurationS: null };
    expect(
      pressureLadderOf({ settings: { inUse: SETTINGS, isAsLeft: true, readings } }).hold.decayRatePaPerS,
    ).toBeNull();
  });

  it('takes what nobody said on the safe side', () => {
    const { circuit } = aCircuit();
    const { thermal, unclampLineCanBlock } = pressureLadderOf({
      circuit: { ...circuit, canTrap: null, unclampLineCanBlock: null },
    });
    expect(thermal.canTrap).toBe(true);
    expect(unclampLineCanBlock).toBe(true);
  });

  it('intensifies by the ratio of the areas, 25 mm bore over 16 mm rod', () => {
    const clamp = pressureLadderOf({}).components.find(({ kind }) => kind === 'swing-clamp');
    // 25² / (25² − 16²), by hand.
    expect(clamp?.rodSideAreaRatio).toBeCloseTo(625 / 369, 12);
    const [element] = aFixture().elements;
    const odd = {
      elements: [
        { ...element, rodM: 0.03 },
        { ...element, rodM: null },
      ],
    } as Parameters<typeof aFixture>[0];
    const ratios = pressureLadderOf({ fixture: aFixture(odd) }).components.map(
      ({ rodSideAreaRatio }) => rodSideAreaRatio,
    );
    expect(ratios.every((ratio) => ratio === null)).toBe(true);
  });

  it('lists no rating of what sees no pressure, and asks supports for the pressure at which they lock', () => {
    const kinds = pressureLadderOf({}).components.map(({ kind }) => kind);
    expect(kinds).not.toContain('reservoir');
    expect(kinds.slice(0, 2)).toEqual(['fixture', 'swing-clamp']);
    const [clamp] = aFixture().elements;
    const elements = [
      { ...clamp, kind: 'support', leastWorkingPressurePa: null },
    ] as CircuitFacts['fixture'] extends null ? never : ReturnType<typeof aFixture>['elements'];
    expect(pressureLadderOf({ fixture: aFixture({ elements }) }).leastWorking).toEqual([
      { ref: { entity: 'fixture', id: 'fixture', name: 'F-1: Swing clamps' }, leastWorkingPressurePa: null },
    ]);
  });

  it("takes the pump's restart from the settings alone: a data sheet's is no reading", () => {
    const settings = {
      ...aCircuit().settings,
      inUse: { ...SETTINGS, pumpRestartPa: null, pumpRestartTolerancePa: null },
    };
    const components = withFigures('pump', { restartPressure: 155e5, restartTolerance: 4e5 });
    expect(pressureLadderOf({ settings, components }).pump).toMatchObject({
      restartPressurePa: null,
      restartHalfWidthPa: null,
    });
    expect(pressureLadderOf({ components }).pump).toMatchObject({ restartPressurePa: 160e5, restartHalfWidthPa: 3e5 });
  });
});

describe('the control of a circuit', () => {
  it('shares the supply with every valve of its machine: 20 W, two coils of 30 W, a quarter in reserve', () => {
    expect(toProofInput(aCircuit()).controlWiring).toMatchObject({ requiredRatingW: 100, supplyRatingW: 120 });
    const { circuits } = aControl();
    const heavy = aControl({
      circuits: circuits.map((one) => ({ ...one, coilPowerW: one.id === 'other' ? 400 : 30 })),
    });
    expect(checkOf(aCircuit({ control: heavy }), 'control-wiring')).toMatchObject({
      status: 'fails',
      reason: 'supply-too-small',
    });
    const unknown = aControl({ circuits: circuits.map((one) => ({ ...one, coilPowerW: null })) });
    expect(checkOf(aCircuit({ control: unknown }), 'control-wiring')?.status).toBe('unproven');
  });

  it('loses voltage on the way to the coil: 12 m of 0.75 mm² there and back', () => {
    const { controlWiring } = toProofInput(aCircuit());
    const [coil] = controlWiring.coils;
    // Copper at 40 °C: 0.0172 Ω mm²/m × (1 + 0.00393 × 20) × 24 m / 0.75 mm² = 0.594 Ω beside 19.2 Ω of the coil (IEC 60228, handbook).
    expect(coil?.voltageAtCoilV).toBeCloseTo((24 * 19.2) / (19.2 + 0.594), 1);
    expect(coil?.peakVoltageV).toBeCloseTo(24 + 33, 6);
  });

  it.each([
    ['crossSectionM2', null],
    ['crossSectionM2', 0],
    ['lengthM', null],
  ] as const)('knows no voltage at the coil with %s %s', (field, value) => {
    const { wires, ...control } = aControl();
    const facts = aCircuit({ control: { ...control, wires: wires.map((wire) => ({ ...wire, [field]: value })) } });
    expect(toProofInput(facts).controlWiring.coils[0]?.voltageAtCoilV).toBeNull();
  });

  it('says which signals have no wires, and that there are none', () => {
    const missing = (change: Partial<ReturnType<typeof aControl>>) =>
      toProofInput(aCircuit({ control: aControl(change) })).controlWiring.missing;
    expect(missing({ wires: [] })).toHaveLength(3);
    expect(missing({ signals: [] })).toEqual([{ field: 'signals', ref: expect.objectContaining({ id: 'circuit' }) }]);
  });

  it('asks for what the interlock lacks: the behaviour of the machine, or what a station is', () => {
    const interlockOf = (change: Partial<ReturnType<typeof aControl>>) =>
      toProofInput(aCircuit({ control: aControl(change) })).interlock;
    const { machine, circuits } = aControl();
    const behaviour = { ...machine.behaviour, onReset: null };
    expect(interlockOf({ machine: { ...machine, behaviour } })).toMatchObject({
      proof: null,
      missing: [{ field: 'behaviour.onReset' }],
    });
    expect(interlockOf({ circuits: [] })?.missing).toEqual([{ field: 'signals', ref: null }]);
    expect(interlockOf({ signals: [] })?.missing).toEqual([expect.objectContaining({ field: 'signals' })]);
    const unsaid = circuits.map((circuit) => ({ ...circuit, valveBehaviour: null, isCheckHeld: null }));
    expect(interlockOf({ circuits: unsaid, mCodes: [] })?.missing.map(({ field }) => field)).toEqual([
      ...['valveBehaviour', 'isCheckHeld', 'clampCode', 'unclampCode', 'waitsForAnswer'],
    ]);
  });

  it('takes a coil as held on where nobody has said, and knows no peak without its suppression', () => {
    const { signals } = aControl();
    const unsaid = signals.map((signal) => ({ ...signal, isHeldOn: null, suppression: null }));
    const [coil] = toProofInput(aCircuit({ control: aControl({ signals: unsaid }) })).controlWiring.coils;
    expect(coil).toMatchObject({ isHeldOn: true, hasSuppression: null, peakVoltageV: null });
  });

  it('tells held outputs from pulsed ones, and leaves out stations of which too little is known', () => {
    const { signals, circuits, mCodes } = aControl();
    const pulsed = signals.map((signal) => ({ ...signal, isHeldOn: false }));
    const stationsOf = (change: Partial<ReturnType<typeof aControl>>) =>
      toProofInput(aCircuit({ control: aControl(change) })).interlock.proof?.stations;
    expect(stationsOf({ signals: pulsed })?.map(({ outputs }) => outputs)).toEqual(['pulsed', 'pulsed']);
    expect(stationsOf({ circuits, mCodes: mCodes.slice(0, 2) })).toHaveLength(1);
  });

  it('finds a signal that two stations share however it is written', () => {
    const { signals } = aControl();
    const shared = signals.map((signal) => (signal.id === 'other clamp' ? { ...signal, name: ' y21' } : signal));
    expect(checkOf(aCircuit({ control: aControl({ signals: shared }) }), 'interlock-sound')).toMatchObject({
      status: 'fails',
      reason: 'signals-shared',
    });
  });

  it('needs no output in the direction of a spring', () => {
    const { circuits, signals } = aControl();
    for (const [rests, coil] of [
      ['single-rests-clamped', 'clamp-coil'],
      ['single-rests-unclamped', 'unclamp-coil'],
    ] as const) {
      const single = circuits.map((circuit) => ({ ...circuit, valveBehaviour: rests }));
      const control = aControl({ circuits: single, signals: signals.filter(({ actsOn }) => actsOn !== coil) });
      expect(toProofInput(aCircuit({ control })).interlock.missing).toEqual([]);
    }
  });
});

describe('the movement of a circuit', () => {
  const furtherOf = (change: Partial<CircuitFacts>) => {
    return toProofInput(aCircuit(change));
  };

  it('counts what was read at the setting in use alone, and an unclamp time only of cold oil', () => {
    expect(furtherOf({}).measured).toMatchObject({ timeToSwitchS: 1.8, unclampColdS: 1.5 });
    const readings = (change: Partial<typeof READINGS>) => ({
      settings: { inUse: SETTINGS, isAsLeft: false, readings: { ...READINGS, ...change } },
    });
    expect(furtherOf(readings({ oilTemperatureK: 300 })).measured?.unclampColdS).toBeNull();
    expect(furtherOf(readings({ oilTemperatureK: null })).measured?.unclampColdS).toBeNull();
    const other = toProofInput(aCircuit(readings({ settingPa: 170e5 })));
    expect(other.measured).toBeNull();
    expect(other.sharedSupply.others).toEqual([expect.objectContaining({ lowestPressurePa: null })]);
    expect(toProofInput(aCircuit({})).sharedSupply.others).toEqual([
      expect.objectContaining({ lowestPressurePa: 177e5 }),
    ]);
    const neverRead = toProofInput(aCircuit(readings({ lowestWhileSharedPa: null })));
    expect(neverRead.sharedSupply.others).toEqual([expect.objectContaining({ lowestPressurePa: null })]);
  });

  it('stalls at piston ratio × efficiency × air, and behind a reducing valve no higher than its setting', () => {
    const { circuit, powerUnit } = aCircuit();
    expect(furtherOf({}).actuation.pump).toMatchObject({ stallPressurePa: 40 * 0.98 * 4.5e5 });
    const low = { powerUnit: { ...powerUnit, plantAirLowPa: 4e5 } };
    expect(furtherOf(low).actuation.pump.stallPressureLowPa).toBeCloseTo(40 * 0.98 * 4e5, 6);
    const unknown = { powerUnit: { ...powerUnit, plantAirLowPa: null } };
    expect(furtherOf(unknown).actuation.pump.stallPressureLowPa).toBeNull();
    const electric = { powerUnit: { ...powerUnit, drive: 'electric' as const } };
    const components = withFigures('pump', { highestPressure: 260e5 });
    expect(furtherOf({ ...electric, components }).actuation.pump.stallPressureLowPa).toBe(260e5);
    const reduced = { circuit: { ...circuit, hasReducingValve: true } };
    expect(furtherOf({ ...electric, ...reduced, components }).actuation.pump.stallPressurePa).toBe(175e5);
    expect(furtherOf({ ...electric, ...reduced }).actuation.pump.stallPressurePa).toBeNull();
    const unset = {
      settings: { inUse: { ...SETTINGS, settingPa: null, airPressurePa: null }, isAsLeft: true, readings: READINGS },
    };
    expect(furtherOf({ ...reduced, ...unset }).actuation.pump.stallPressurePa).toBeNull();
  });

  it('knows the bore of a tube from its diameter and wall, and of a hose from its own', () => {
    const { supply, clamp } = furtherOf({}).actuation.lines;
    expect(supply[0]?.innerDiameterM).toBeCloseTo(0.009, 12);
    expect(clamp[0]).toMatchObject({ innerDiameterM: 0.006, isHose: true, expansionModulusPa: 1.4e9 });
    const tubes = COMPONENTS.map((component) =>
      component.kind === 'tube' ? { ...component, figures: { length: 2, outerDiameter: 0.012 } } : component,
    );
    expect(furtherOf({ components: tubes }).actuation.lines.supply[0]?.innerDiameterM).toBeNull();
  });

  it('has no valve, no reservoir and no switch where none is fitted', () => {
    expect(furtherOf({ components: without('directional-valve') }).actuation.valve).toBeNull();
    expect(furtherOf({ components: without('pressure-switch') }).actuation.switchAt).toBeNull();
    expect(furtherOf({ components: without('reservoir') }).reservoir.usableVolumeM3).toBeNull();
    const atPump = COMPONENTS.map((component) => ({ ...component, sensing: 'pump' as const }));
    expect(furtherOf({ components: atPump }).actuation.switchAt).toBe('pump');
  });

  it('asks of a clamp that nobody has described what a swing clamp is asked', () => {
    const [clamp] = aFixture().elements;
    const elements = [{ ...clamp, form: null }] as ReturnType<typeof aFixture>['elements'];
    expect(furtherOf({ fixture: aFixture({ elements }) }).order.swingClamps).toHaveLength(1);
  });

  it('draws on the reservoir with every circuit of the power unit', () => {
    expect(furtherOf({}).reservoir.circuits.map(({ ref }) => ref.id)).toEqual(['circuit', 'other']);
    expect(furtherOf({ neighbours: [aNeighbour({ fixture: null })] }).reservoir.circuits[1]?.groups).toEqual([]);
  });
});
