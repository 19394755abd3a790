import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aFixture, aNeighbour, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';
import { checkOf } from './facts-checks.js';

/** What a plain second working of the checks found credited, each by hand. */
describe('nor with', () => {
  const { circuit, powerUnit } = aCircuit();
  const isWarming = { circuit: { ...circuit, trappedTemperatureRiseK: null } };
  const withReadings = (readings: object, inUse: object = {}): Partial<CircuitFacts> => ({
    settings: { inUse: { ...SETTINGS, ...inUse }, isAsLeft: true, readings: { ...READINGS, ...readings } },
  });
  const withSettings = (inUse: object) => withReadings({}, inUse);
  const switchAt = (sensing: 'manifold' | 'clamp-line' | null) =>
    COMPONENTS.map((one) => (one.kind === 'pressure-switch' ? { ...one, sensing } : one));
  const checkValve = (lineFunctions: ('clamp' | 'unclamp' | 'tank')[]) => ({
    ...({ id: 'check valve', place: 'circuit', kind: 'check-valve', name: 'Check valve', lineFunctions } as const),
    ...{ sensing: null, figures: { ratedPressure: 350e5 } },
  });
  const statusOf = (change: Partial<CircuitFacts>, code: Parameters<typeof checkOf>[1]) =>
    checkOf(aCircuit(change), code)?.status;

  it('a switch on the supply where a check valve is fitted, or the valve springs to the middle; one in the tank line shuts off nothing', () => {
    const components = switchAt('manifold');
    expect(statusOf({ components }, 'holds-workpiece')).toBe('holds');
    const fitted = { components: [...components, checkValve(['clamp'])] };
    for (const code of ['holds-workpiece', 'clamping-time', 'interlock-sound'] as const) {
      expect(checkOf(aCircuit(fitted), code)).toMatchObject({ status: 'fails', reason: 'switch-senses-supply' });
    }
    expect(statusOf({ components: [...components, checkValve([])] }, 'holds-workpiece')).toBe('fails');
    expect(statusOf({ components: [...components, checkValve(['tank'])] }, 'holds-workpiece')).toBe('holds');
    // In the unclamp line it shuts off nothing that holds; whether it blocks that line, as is said that nothing does, nobody knows.
    const inUnclamp = { ...isWarming, components: [...components, checkValve(['tank', 'unclamp'])] };
    expect(checkOf(aCircuit(inUnclamp), 'holds-workpiece')?.missing).toContainEqual({ field: 'unclampLineCanBlock', ref: null }); // prettier-ignore
    // In the clamp line it may stand before that check valve, or beyond it.
    const inLine = (isBeyondShutOff: boolean | null) =>
      switchAt('clamp-line').map((one) => (one.kind === 'pressure-switch' ? { ...one, isBeyondShutOff } : one));
    expect(
      [true, false, null].map((isBeyond) =>
        statusOf({ components: [...inLine(isBeyond), checkValve(['clamp'])] }, 'holds-workpiece'),
      ),
    ).toEqual(['holds', 'fails', 'unproven']);
    const { control } = aCircuit();
    const centred = control.circuits.map((one) => ({ ...one, valveBehaviour: 'double-centred' as const }));
    expect(statusOf({ components, control: { ...control, circuits: centred } }, 'holds-workpiece')).toBe('fails');
    // The valve is another circuit's.
    const other = { ...control, circuits: control.circuits.map((one, index) => (one.id === circuit.id ? one : (centred[index] ?? one))) }; // prettier-ignore
    expect(statusOf({ components, control: other }, 'holds-workpiece')).toBe('holds');
    // Nobody has said what shuts off.
    for (const canTrap of [null, false]) {
      expect(statusOf({ components, circuit: { ...circuit, isCheckHeld: null, canTrap } }, 'holds-workpiece')).toBe(
        'unproven',
      );
    }
  });

  it('oil that a fitted check valve shuts in', () => {
    const components = [...COMPONENTS, checkValve(['clamp'])];
    const change = { ...isWarming, components, fixture: aFixture({ elements: [] }) };
    expect(checkOf(aCircuit(change), 'highest-within-rating')?.missing).toContainEqual(
      expect.objectContaining({ field: 'temperatureRiseK' }),
    );
  });

  it('oil that nobody has said is free: whether it is decoupled, or held by check valves, is asked for', () => {
    const change = { ...isWarming.circuit, isDecoupled: null };
    const electric = { ...powerUnit, drive: 'electric' as const };
    const { fixture } = aCircuit();
    // Clamps that springs push back, so that no line that is blocked is intensified.
    const sprung = fixture && { ...fixture, elements: [{ ...ELEMENT, acting: 'single' as const, springForceN: 300 }] };
    const check = checkOf(aCircuit({ circuit: change, powerUnit: electric, fixture: sprung }), 'highest-within-rating');
    expect(check?.status).toBe('unproven');
    expect(check?.missing).toContainEqual({ field: 'isDecoupled', ref: null });
    // What may be held by check valves may have its clamp line blocked as well, and that is too much here.
    expect(statusOf({ circuit: { ...circuit, isCheckHeld: null } }, 'highest-within-rating')).toBe('fails');
  });

  it('a reset point above the set point: 160 bar of a switch that makes at 150 counts as 150', () => {
    const check = checkOf(aCircuit(withSettings({ resetPointPa: 160e5 })), 'holds-workpiece');
    expect(check?.nominal?.capacityPa).toBe(150e5);
    expect(statusOf(withSettings({ setPointPa: null }), 'holds-workpiece')).toBe('unproven');
  });

  it('a restart, or a neighbour’s pull, that holds too seldom: probability decides in checks 10 and 11', () => {
    const seldom = checkOf(
      aCircuit({ ...withSettings({ pumpRestartPa: 144.1e5, pumpRestartTolerancePa: 1e3 }) }),
      'shared-supply',
    );
    expect(seldom).toMatchObject({ status: 'fails', reason: 'probability-too-low' });
    expect(seldom?.probability).toBeLessThan(0.95);
  });

  it('contact and switch read with one tolerance: 1.4 + 0.1 s must come before 1.55 - 0.1 s', () => {
    const readings = withReadings({ contactTimeS: 1.4, clampTimeS: 1.55 });
    expect(checkOf(aCircuit(readings), 'clamping-time')).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
    const unsaid = checkOf(aCircuit(withReadings({ timeToleranceS: null })), 'clamping-time');
    expect(unsaid?.status).toBe('unproven');
  });

  it('a time read to the switch because nobody read the contact: 4 s of 3 s allowed fail', () => {
    const late = withReadings({ clampTimeS: 4, contactTimeS: null });
    expect(checkOf(aCircuit(late), 'clamping-time')).toMatchObject({ status: 'fails', reason: 'clamps-too-slowly' });
    const early = withReadings({ clampTimeS: 0.01, contactTimeS: null });
    expect(checkOf(aCircuit(early), 'clamping-time')?.numbers?.nominal?.demand).toBeGreaterThan(0.01);
    // Without a transient too.
    const uncomputed = { ...late, powerUnit: { ...powerUnit, oilBulkModulusPa: null } };
    expect(statusOf(uncomputed, 'clamping-time')).toBe('fails');
    expect(statusOf({ ...uncomputed, ...withReadings({ clampTimeS: null }) }, 'clamping-time')).toBe('unproven');
  });

  it('a switch that the lowest air never reaches, whatever else is not known: 40 x 0.98 x 3.5 bar is 137 bar of 150', () => {
    const low = { powerUnit: { ...powerUnit, plantAirLowPa: 3.5e5, oilBulkModulusPa: null } };
    const unread = withReadings({ clampTimeS: null });
    const untimed = { circuit: { ...circuit, clampTimeAllowedS: null } };
    expect(statusOf({ ...low, ...unread }, 'clamping-time')).toBe('fails');
    expect(statusOf({ ...low, ...unread, ...untimed }, 'clamping-time')).toBe('fails');
  });

  it('cold oil sooner than the warm oil that was read: 7 s of 6 s fail at any temperature', () => {
    const warm = withReadings({ unclampTimeS: 7, oilTemperatureK: 303.15 });
    expect(checkOf(aCircuit(warm), 'unclamping')).toMatchObject({ status: 'fails', reason: 'unclamps-too-slowly' });
    expect(statusOf({ ...warm, powerUnit: { ...powerUnit, oilBulkModulusPa: null } }, 'unclamping')).toBe('fails');
  });

  it('a spring that drags its friction along: 2 bar on 40 mm are 251 N, and 100 N of friction make 351 N', () => {
    const sprung = (springForceN: number) =>
      aFixture({ elements: [{ ...ELEMENT, form: 'lever-clamp', acting: 'single', springForceN, frictionN: 100 }] });
    const area = (Math.PI / 4) * Number(ELEMENT.boreM) ** 2;
    const needed = area * 2e5 + 100;
    expect(statusOf({ fixture: sprung(needed - 1) }, 'unclamping')).toBe('fails');
    expect(checkOf(aCircuit({ fixture: sprung(needed + 1) }), 'unclamping')?.pairs).toContainEqual(
      expect.objectContaining({ reason: expect.not.stringContaining('spring-too-weak') as string }),
    );
  });

  it('a gauge away from 20 °C: 250 bar of class 1.6 err by 4 bar, and 25 K further by 2.5 bar more', () => {
    const pressureLadderOf = (gaugeOffReferenceK: number | null) =>
      proveFacts(aCircuit({ powerUnit: { ...powerUnit, gaugeOffReferenceK } }));
    const shown = (off: number | null) =>
      pressureLadderOf(off).rungs.find(({ code }) => code === 'setting')?.parameters;
    expect(shown(25)).toMatchObject({ gaugeErrorPa: 6.5e5, gaugeOffReferenceK: 25 });
    // What is put in where nobody has said is shown.
    expect(shown(null)).toMatchObject({ gaugeErrorPa: 4e5, gaugeOffReferenceK: 0 });
    const fitted = aCircuit({ powerUnit: { ...powerUnit, gaugeOffReferenceK: 25 } });
    const released = proveFacts({ ...fitted, settings: { ...fitted.settings, isAsLeft: false } });
    expect(released.rungs.find(({ code }) => code === 'setting')?.parameters.gaugeErrorPa).toBe(6.5e5);
    const worst = (off: number | null) => pressureLadderOf(off).checks[0]?.worstCase?.capacityPa;
    expect(worst(25)).toBeCloseTo(Number(worst(null)) - 2.5e5, 3);
  });

  it('a clamp of which neither rating nor bore is known: the oil is in it all the same', () => {
    const fixture = aFixture({ elements: [{ ...ELEMENT, ratedPressurePa: null, boreM: null }] });
    expect(statusOf({ fixture }, 'setting-within-rating')).toBe('unproven');
  });

  it('a neighbour’s pull that was read with another fixture on its station, of each neighbour by itself', () => {
    const other = (name: string, isFixtureAsRead?: boolean | null) =>
      aNeighbour({ id: name, name, ...(isFixtureAsRead === undefined ? {} : { isFixtureAsRead }) });
    const judged = (...neighbours: CircuitFacts['neighbours']) => checkOf(aCircuit({ neighbours }), 'shared-supply');
    expect(judged(other('Station 2', true), other('Station 3', true))?.status).toBe('holds');
    const ref = { entity: 'circuit', id: 'Station 3', name: 'Station 3' };
    for (const isSame of [false, null]) {
      const check = judged(other('Station 2', true), other('Station 3', isSame));
      expect(check).toMatchObject({ status: 'unproven', missing: [{ field: 'lowestPressurePa', ref }] });
      expect(check?.pairs?.map(({ subject, status }) => [subject?.name ?? null, status])).toEqual([
        ['Station 3', 'unproven'],
        ['Station 2', 'holds'],
        [null, 'holds'],
      ]);
    }
    // Of a record that was made before it was asked.
    expect(judged(other('Station 2'))?.status).toBe('holds');
  });

  it('an operation that nothing holds: neither within what the workpiece allows nor without supply', () => {
    const [operation] = aCircuit().operations;
    if (operation === undefined) throw new Error('there is an operation');
    const unheld = { ...operation, requiredPressurePa: null, unheldCase: '1/through' };
    const alone = {
      ...circuit,
      isDecoupled: true,
      timeWithoutSupplyS: 60,
      coolingWithoutSupplyK: 0,
      isProvedAgain: true,
    };
    const facts = {
      operations: [operation, { ...unheld, workpieceNotLimiting: false, workpieceLimitPa: 240e5 }],
      circuit: {
        ...alone,
        trappedNetExpansionPerK: 6e-4,
        trappedBulkModulusPa: 6e8,
        unclampBulkModulusPa: 6e8,
        trappedTemperatureRiseK: 1,
      },
    };
    for (const code of ['workpiece-limit', 'holds-without-supply'] as const) {
      expect(checkOf(aCircuit(facts), code)).toMatchObject({
        ...{ status: 'fails', reason: 'no-pressure-holds', loadCase: '1/through', stated: null },
        subject: { entity: 'operation' },
      });
    }
    // Where neither is asked, there is nothing to say.
    expect(statusOf({ operations: [unheld] }, 'workpiece-limit')).toBe('not-applicable');
    expect(statusOf({ operations: [unheld] }, 'holds-without-supply')).toBe('not-applicable');
  });

  it('an element that says whether it pulls, whatever its form: by its annulus, or by its whole bore', () => {
    const timesOf = (change: Partial<typeof ELEMENT>) => {
      const facts = aCircuit({
        ...withReadings({ clampTimeS: null }),
        fixture: aFixture({ elements: [{ ...ELEMENT, ...change }] }),
      });
      return checkOf(facts, 'clamping-time')?.numbers?.nominal?.demand;
    };
    const pulling = timesOf({});
    expect(timesOf({ form: 'cylinder', pulls: true })).toBe(pulling);
    expect(timesOf({ form: null, pulls: true })).toBe(pulling);
    const pushing = timesOf({ form: 'cylinder' });
    expect(Number(pushing)).toBeGreaterThan(Number(pulling));
    expect(timesOf({ pulls: false })).toBe(pushing);
    // Of one of which nobody has said what it is, nothing is told.
    expect(timesOf({ form: null })).toBeUndefined();
  });

  it('ratings and order of a fixture that is not fitted', () => {
    for (const code of ['setting-within-rating', 'highest-within-rating', 'order-and-speed'] as const) {
      const check = checkOf(aCircuit({ fixture: null }), code);
      expect([code, check?.status]).toEqual([code, 'unproven']);
      expect(check?.missing).toContainEqual({ field: 'fixture', ref: null });
    }
  });

  it('what is known already being too much, only because the rest is not', () => {
    const untold = withSettings({ settingTolerancePa: null });
    const swing = aFixture({ elements: [{ ...ELEMENT, armPressurePa: 170e5 }] });
    expect(statusOf({ ...untold, fixture: swing }, 'order-and-speed')).toBe('fails');
    const { control } = aCircuit();
    const signals = control.signals.map((signal) => ({ ...signal, suppressionVoltageV: null }));
    const machine = { ...control.machine, outputRatingV: 20 };
    expect(statusOf({ control: { ...control, signals, machine } }, 'control-wiring')).toBe('fails');
  });

  it('oil by the stall at the air of the day: the reservoir is reckoned at the highest plant air', () => {
    const check = checkOf(aCircuit({ powerUnit: { ...powerUnit, plantAirHighPa: null } }), 'reservoir');
    expect(check?.status).toBe('unproven');
  });

  it('but what springs bring back has no oil on its rod side, and nothing there is intensified', () => {
    const blocked = { circuit: { ...circuit, unclampLineCanBlock: true } };
    const fixture = aFixture({ elements: [{ ...ELEMENT, acting: 'single', springForceN: 2e3, frictionN: 10 }] });
    expect(statusOf(blocked, 'highest-within-rating')).not.toBe('holds');
    expect(statusOf({ ...blocked, fixture }, 'highest-within-rating')).toBe('holds');
    const lever = { ...checkValve(['unclamp']), kind: 'lever-clamp' as const };
    expect(statusOf({ ...blocked, fixture, components: [...COMPONENTS, lever] }, 'highest-within-rating')).toBe(
      'unproven',
    );
  });
});
