import { checkOrderAndSpeed } from '../src/circuit-checks/order-check.js';
import { checkReservoir, checkSharedSupply } from '../src/circuit-checks/supply-checks.js';
import { checkClampingTime, checkUnclamping } from '../src/circuit-checks/time-checks.js';
import { checkHoldsWithoutSupply } from '../src/circuit-checks/without-supply-check.js';
import { checkControlWiring, type ControlWiringInput } from '../src/circuit-checks/wiring-check.js';
import { ref } from './pressure-ladder-builder.js';

describe('check 5: clamping time', () => {
  const input = { timeToSwitchS: 3, timeToContactS: 2, timeHalfWidthS: 0.5, allowedTimeS: 4, marginAsked: 0.1 };

  test('within, inside the margin, too slow', () => {
    expect(checkClampingTime(input)).toMatchObject({
      status: 'holds',
      reason: 'within',
      kind: 'time',
      nominal: { demand: 3, capacity: 4, margin: 1 },
    });
    expect(checkClampingTime({ ...input, allowedTimeS: 3.6 })).toMatchObject({
      status: 'marginal',
      reason: 'inside-margin',
    });
    expect(checkClampingTime({ ...input, allowedTimeS: 3.4 })).toMatchObject({
      status: 'fails',
      reason: 'clamps-too-slowly',
    });
    expect(checkClampingTime({ ...input, timeToSwitchS: 'never' })).toMatchObject({
      status: 'fails',
      reason: 'clamps-too-slowly',
      nominal: null,
    });
  });

  test('a switch that makes before the last contact', () => {
    expect(checkClampingTime({ ...input, timeToContactS: 3.2 })).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
    expect(checkClampingTime({ ...input, timeToContactS: 'never' })).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
  });

  test('what is missing', () => {
    const found = checkClampingTime({ ...input, timeToContactS: null, allowedTimeS: null });
    expect([found.status, found.missing.map(({ field }) => field)]).toEqual([
      'unproven',
      ['allowedTimeS', 'timeToContactS'],
    ]);
    expect(found.pairs).toHaveLength(2);
    expect(checkClampingTime({ ...input, marginAsked: Number.NaN })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'marginAsked', ref: null }],
    });
  });
});

describe('check 6: unclamping', () => {
  const spring = { ref: ref('push clamp'), springForceN: 300, pistonAreaM2: 5e-4, backPressurePa: 4e5 };
  const input = {
    timeColdS: 2,
    timeHalfWidthS: 0.5,
    allowedTimeS: 4,
    needsOpenProof: true,
    hasOpenProof: true,
    springs: [spring],
    marginAsked: 0,
  };

  test('cold oil, open proof, springs', () => {
    expect(checkUnclamping(input)).toMatchObject({ status: 'holds' });
    expect(checkUnclamping({ ...input, timeColdS: 'never' })).toMatchObject({ reason: 'unclamps-too-slowly' });
    expect(checkUnclamping({ ...input, hasOpenProof: false })).toMatchObject({
      status: 'fails',
      reason: 'open-not-proved',
      kind: 'fact',
    });
    expect(checkUnclamping({ ...input, hasOpenProof: null })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'hasOpenProof' }],
    });
    expect(checkUnclamping({ ...input, needsOpenProof: false, hasOpenProof: null }).status).toBe('holds');
    const weak = checkUnclamping({ ...input, springs: [{ ...spring, backPressurePa: 7e5 }] });
    expect(weak).toMatchObject({ status: 'fails', reason: 'spring-too-weak', subject: spring.ref, kind: 'force' });
    expect(checkUnclamping({ ...input, springs: [{ ...spring, backPressurePa: null }] }).missing).toEqual([
      { field: 'backPressurePa', ref: spring.ref },
    ]);
    expect(checkUnclamping({ ...input, springs: [{ ...spring, pistonAreaM2: null }] }).status).toBe('unproven');
  });
});

describe('check 7: control wiring', () => {
  const coil = {
    ref: ref('coil'),
    voltageAtCoilV: 23,
    ratedVoltageV: 24,
    toleranceRatio: 0.1,
    isRatedContinuous: true,
    isHeldOn: true,
    hasSuppression: true,
    peakVoltageV: 48,
    outputRatingV: 60,
    isPolarityRight: true,
  };
  const conductor = { ref: ref('W12'), protectionA: 6, conductorLimitA: 7, insulationV: 300, highestInCableV: 24 };
  const input: ControlWiringInput = {
    requiredRatingW: 60,
    supplyRatingW: 120,
    peakLoadW: 90,
    peakRatingW: 150,
    coils: [coil],
    hasSeparateCommons: true,
    conductors: [conductor],
    marginAsked: 0,
  };
  const reasonWith = (change: Partial<ControlWiringInput>): string =>
    checkControlWiring({ ...input, ...change }).reason;

  test('each thing that can be wrong has its reason', () => {
    expect(checkControlWiring(input).status).toBe('holds');
    expect(reasonWith({ requiredRatingW: 130 })).toBe('supply-too-small');
    expect(reasonWith({ peakLoadW: 160 })).toBe('inrush-too-large');
    expect(reasonWith({ hasSeparateCommons: false })).toBe('commons-not-separate');
    expect(reasonWith({ coils: [{ ...coil, voltageAtCoilV: 21 }] })).toBe('voltage-at-coil');
    expect(reasonWith({ coils: [{ ...coil, voltageAtCoilV: 27 }] })).toBe('voltage-at-coil');
    expect(reasonWith({ coils: [{ ...coil, hasSuppression: false }] })).toBe('no-suppression');
    expect(reasonWith({ coils: [{ ...coil, isPolarityRight: false }] })).toBe('polarity');
    expect(reasonWith({ coils: [{ ...coil, peakVoltageV: 70 }] })).toBe('output-overvoltage');
    expect(reasonWith({ coils: [{ ...coil, isRatedContinuous: false }] })).toBe('duty-not-continuous');
    expect(reasonWith({ coils: [{ ...coil, isHeldOn: false, isRatedContinuous: false }] })).toBe('within');
    expect(reasonWith({ conductors: [{ ...conductor, protectionA: 15 }] })).toBe('protection-too-large');
    expect(reasonWith({ conductors: [{ ...conductor, highestInCableV: 480 }] })).toBe('insulation-too-low');
  });

  test('signals that nobody has recorded leave it unproven, whatever else is right', () => {
    const missing = [{ field: 'signals', ref: ref('Pallet 1') }];
    expect(checkControlWiring({ ...input, missing })).toMatchObject({ status: 'unproven', reason: 'missing', missing });
  });

  test('what is missing is named with its component; no peak rating is no check of it', () => {
    const found = checkControlWiring({
      ...input,
      peakRatingW: null,
      peakLoadW: null,
      coils: [{ ...coil, voltageAtCoilV: null, ratedVoltageV: null, toleranceRatio: null }],
    });
    expect([found.status, found.missing.map(({ field, ref: of }) => [field, of?.name])]).toEqual([
      'unproven',
      [
        ['voltageAtCoilV', 'coil'],
        ['ratedVoltageV', 'coil'],
        ['toleranceRatio', 'coil'],
      ],
    ]);
    expect(checkControlWiring({ ...input, peakLoadW: null }).missing).toEqual([{ field: 'peakLoadW', ref: null }]);
  });
});

describe('check 10: shared supply', () => {
  const input = {
    resetPointPa: 140e5,
    switchAccuracyPa: 3e5,
    gaugeErrorPa: 4e5,
    restartPressurePa: 165e5,
    restartHalfWidthPa: 3e5,
    others: [{ ref: ref('station B'), lowestPressurePa: 155e5 }],
    marginAsked: 0,
  };

  test('another station pulls down; the pump restarts too late; the gauge decides', () => {
    expect(checkSharedSupply(input).status).toBe('holds');
    expect(checkSharedSupply({ ...input, others: [] }).status).toBe('holds');
    expect(checkSharedSupply({ ...input, others: [{ ref: ref('station B'), lowestPressurePa: 141e5 }] })).toMatchObject(
      { status: 'fails', reason: 'other-station-pulls-down', subject: ref('station B') },
    );
    expect(checkSharedSupply({ ...input, restartPressurePa: 144e5 })).toMatchObject({
      status: 'fails',
      reason: 'restart-below-reset',
    });
    expect(checkSharedSupply({ ...input, restartPressurePa: 148e5 })).toMatchObject({
      status: 'marginal',
      reason: 'gauge-error-decides',
    });
    expect(checkSharedSupply({ ...input, others: [{ ref: ref('B'), lowestPressurePa: null }] }).missing).toEqual([
      { field: 'lowestPressurePa', ref: ref('B') },
    ]);
  });
});

describe('check 11: without supply', () => {
  const input = {
    isDecoupled: true,
    requiredPressurePa: 120e5,
    settingPa: 175e5,
    settingHalfWidthPa: 5e5,
    gaugeErrorPa: 4e5,
    decayRatePaPerS: 1e3,
    timeWithoutS: 1800,
    coolingK: 2,
    pressurePerKelvinPaPerK: 6e5,
    isProvedAgain: true,
    marginAsked: 0,
  };

  test('leak and cooling take from the setting', () => {
    expect(checkHoldsWithoutSupply(input)).toMatchObject({
      status: 'holds',
      nominal: { demand: 120e5, capacity: 175e5 - 18e5 - 12e5 },
    });
    expect(checkHoldsWithoutSupply({ ...input, coolingK: 8 })).toMatchObject({
      status: 'fails',
      reason: 'falls-below-required',
    });
    expect(checkHoldsWithoutSupply({ ...input, isProvedAgain: false })).toMatchObject({
      status: 'fails',
      reason: 'not-proved-again',
    });
    expect(checkHoldsWithoutSupply({ ...input, decayRatePaPerS: null })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'decayRatePaPerS' }],
    });
    expect(checkHoldsWithoutSupply({ ...input, isDecoupled: false })).toMatchObject({
      status: 'not-applicable',
      reason: 'always-supplied',
      pairs: [],
    });
  });
});

describe('check 12: order and speed', () => {
  const support = { ref: ref('support'), lockPressurePa: 60e5, clampsLoadFromPa: 80e5, loadN: 4000, capacityN: 5000 };
  const swing = {
    ref: ref('swing clamp'),
    flowM3PerS: 2e-5,
    highestFlowM3PerS: 3e-5,
    pressurePa: 180e5,
    armPressurePa: 200e5,
  };
  const input = { supports: [support], swingClamps: [swing], marginAsked: 0 };

  test('each limit has its reason', () => {
    expect(checkOrderAndSpeed(input).status).toBe('holds');
    expect(checkOrderAndSpeed({ ...input, supports: [{ ...support, clampsLoadFromPa: 50e5 }] })).toMatchObject({
      reason: 'support-locks-late',
      subject: support.ref,
    });
    expect(checkOrderAndSpeed({ ...input, supports: [{ ...support, loadN: 6000 }] }).reason).toBe('support-overloaded');
    expect(checkOrderAndSpeed({ ...input, swingClamps: [{ ...swing, flowM3PerS: 4e-5 }] }).reason).toBe(
      'flow-too-high',
    );
    expect(checkOrderAndSpeed({ ...input, swingClamps: [{ ...swing, pressurePa: 210e5 }] }).reason).toBe(
      'pressure-above-arm-chart',
    );
    expect(checkOrderAndSpeed({ supports: [], swingClamps: [], marginAsked: 0 })).toMatchObject({
      status: 'not-applicable',
      reason: 'nothing-to-order',
    });
    expect(checkOrderAndSpeed({ ...input, swingClamps: [{ ...swing, armPressurePa: null }] }).missing).toEqual([
      { field: 'armPressurePa', ref: swing.ref },
    ]);
  });
});

describe('check 13: reservoir', () => {
  const circuit = { ref: ref('circuit A'), clampVolumeM3: 1e-4, returnVolumeM3: 1.5e-4 };
  const input = { circuits: [circuit, circuit], usableVolumeM3: 1e-3, freeVolumeM3: 5e-4, marginAsked: 0.1 };

  test('all circuits together', () => {
    expect(checkReservoir(input)).toMatchObject({ status: 'holds', kind: 'volume' });
    expect(checkReservoir({ ...input, usableVolumeM3: 1.9e-4 })).toMatchObject({
      status: 'fails',
      reason: 'reservoir-too-small',
    });
    expect(checkReservoir({ ...input, freeVolumeM3: 2.9e-4 })).toMatchObject({
      status: 'fails',
      reason: 'reservoir-overflows',
    });
    expect(checkReservoir({ ...input, circuits: [circuit, { ...circuit, clampVolumeM3: null }] })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'clampVolumeM3' }],
    });
    expect(checkReservoir({ ...input, circuits: [] }).missing.map(({ field }) => field)).toEqual(['circuits']);
  });
});
