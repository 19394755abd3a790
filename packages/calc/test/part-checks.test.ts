import type { PartChecksInput } from '../src/circuit-checks/part-checks.js';
import { proveCircuit } from '../src/circuit-checks/prove-circuit.js';
import type { ProvedCheck } from '../src/pressure-ladder/pressure-ladder.types.js';
import { aPressureLadder, ref } from './pressure-ladder-builder.js';
import { aPartProof, anActuation } from './proof-builder.js';

const prove = (change: Partial<PartChecksInput> = {}) =>
  proveCircuit({
    pressureLadder: aPressureLadder(),
    sharedSupply: { others: [] },
    withoutSupply: { isDecoupled: false, timeWithoutS: null, coolingK: null, isProvedAgain: null },
    ...aPartProof(change),
  });
const checkOf = (code: ProvedCheck['code'], change: Partial<PartChecksInput> = {}): ProvedCheck => {
  const found = prove(change).checks.find((check) => check.code === code);
  if (found === undefined) throw new Error(`no check ${code}`);
  return found;
};

test('a circuit is proved in the order of its checks', () => {
  const { checks } = prove();
  expect(checks.map(({ code }) => code)).toEqual([
    'holds-workpiece',
    'no-nuisance-stop',
    'setting-within-rating',
    'highest-within-rating',
    'clamping-time',
    'unclamping',
    'control-wiring',
    'interlock-sound',
    'workpiece-limit',
    'shared-supply',
    'holds-without-supply',
    'order-and-speed',
    'reservoir',
  ]);
  expect(checks.filter(({ status }) => status !== 'holds' && status !== 'not-applicable')).toEqual([]);
});

describe('clamping and unclamping', () => {
  test('what was read goes before what is computed', () => {
    const measured = { timeToSwitchS: 3, timeToContactS: 2.5, unclampColdS: 5, halfWidthS: 0.5 };
    expect(checkOf('clamping-time', { measured })).toMatchObject({
      status: 'holds',
      numbers: { kind: 'time', nominal: { demand: 3, capacity: 4, margin: 1 }, stated: { demand: 3.5 } },
      nominal: null,
      pairs: [{ status: 'holds' }, { status: 'holds' }],
    });
    expect(checkOf('unclamping', { measured })).toMatchObject({ numbers: { stated: { demand: 5.5, capacity: 6 } } });
    const early = { ...measured, timeToContactS: 3.2 };
    expect(checkOf('clamping-time', { measured: early })).toMatchObject({ reason: 'switch-before-contact' });
    // Half a reading proves nothing: the transient stands in.
    const half = checkOf('clamping-time', { measured: { ...measured, timeToContactS: null, unclampColdS: null } });
    expect(half.numbers?.nominal?.demand).toBeLessThan(3);
  });

  test('computed with warm oil, cold oil and low air are the tolerance', () => {
    const { numbers } = checkOf('clamping-time');
    expect(Number(numbers?.stated?.demand)).toBeGreaterThan(Number(numbers?.nominal?.demand));
    const actuation = anActuation({ pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 2e7, stallPressureLowPa: 150e5 } });
    expect(checkOf('clamping-time', { actuation })).toMatchObject({ status: 'fails', reason: 'clamps-too-slowly' });
    const weak = anActuation({ pump: { freeFlowM3PerS: 2e-5, stallPressurePa: 150e5, stallPressureLowPa: 140e5 } });
    expect(checkOf('clamping-time', { actuation: weak }).status).toBe('fails');
  });

  test('a switch that makes while a clamp is on its way is told, whenever it is closest', () => {
    const narrow = anActuation().lines.clamp.map((piece) => ({ ...piece, innerDiameterM: 0.001, lengthM: 0.5 }));
    const lines = { ...anActuation().lines, clamp: narrow };
    const actuation = anActuation({ lines, switchAt: 'pump', switchRisingPa: 120e5 });
    expect(checkOf('clamping-time', { actuation, clampTimeAllowedS: 1000 })).toMatchObject({
      status: 'fails',
      reason: 'switch-before-contact',
    });
    const [clamps] = anActuation().groups;
    const stuck = anActuation({ groups: [{ ...clamps!, frictionN: 1e5 }] });
    expect(checkOf('clamping-time', { actuation: stuck }).reason).toBe('switch-before-contact');
  });

  test('few missing figures are named, of many it is said what they would tell', () => {
    const [clamps] = anActuation().groups;
    const groups = [{ ...clamps!, strokeM: null }];
    expect(checkOf('clamping-time', { actuation: anActuation({ groups }) })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'strokeM', ref: { name: 'swing clamps' } }],
    });
    const { oil } = anActuation();
    const blank = Object.fromEntries(Object.keys(oil).map((name) => [name, null])) as unknown as typeof oil;
    const unknown = { actuation: anActuation({ oil: blank }), unclampTimeAllowedS: null };
    expect(checkOf('clamping-time', unknown).missing).toContainEqual({ field: 'timeToSwitchS', ref: null });
    expect(checkOf('unclamping', unknown).missing.map(({ field }) => field)).toEqual(
      ['timeColdS', 'unclampTimeAllowedS'].map((field) => field.replace('unclampTimeAllowedS', 'allowedTimeS')),
    );
  });

  test('open is to be proved where a loader trusts it, and whether it does must be said', () => {
    expect(checkOf('unclamping', { needsOpenProof: null })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'needsOpenProof' }],
    });
    expect(checkOf('unclamping', { needsOpenProof: true, hasOpenProof: false }).reason).toBe('open-not-proved');
    const [, support] = anActuation().groups;
    const actuation = anActuation({ groups: [{ ...support!, boreM: null }], returnPressurePa: 1e5 });
    expect(checkOf('unclamping', { actuation }).missing).toContainEqual({ field: 'pistonAreaM2', ref: support!.ref });
  });
});

describe('interlock', () => {
  test('sound, shared, broken, unknown', () => {
    const { interlock } = aPartProof();
    const proof = interlock.proof!;
    expect(checkOf('interlock-sound')).toMatchObject({
      status: 'holds',
      reason: 'within',
      ratio: null,
      parameters: { brokenRules: 0, sharedSignals: 0 },
    });
    expect(checkOf('interlock-sound').parameters['states']).toBeGreaterThan(50);
    const stations = proof.stations.map((station) => ({ ...station, switchInput: 'X1' }));
    expect(checkOf('interlock-sound', { interlock: { proof: { ...proof, stations }, missing: [] } })).toMatchObject({
      status: 'fails',
      reason: 'signals-shared',
      parameters: { sharedSignals: 1 },
    });
    const machine = { ...proof.machine, cutNeedsSwitch: false };
    expect(checkOf('interlock-sound', { interlock: { proof: { ...proof, machine }, missing: [] } })).toMatchObject({
      status: 'fails',
      reason: 'rule-broken',
    });
    const missing = [{ field: 'signals', ref: null }];
    expect(checkOf('interlock-sound', { interlock: { proof: null, missing } })).toMatchObject({
      status: 'unproven',
      missing,
    });
    const nowhere = { proof: { ...proof, station: 9 }, missing };
    expect(checkOf('interlock-sound', { interlock: nowhere }).status).toBe('unproven');
  });
});

describe('order and reservoir', () => {
  test('without a sequence valve the clamps load the workpiece from their first contact', () => {
    const { order } = aPartProof();
    const unsequenced = { ...order, hasSequenceValve: false, sequencePressurePa: null };
    expect(checkOf('order-and-speed', { order: unsequenced })).toMatchObject({
      status: 'fails',
      reason: 'support-locks-late',
    });
    const early = { ...unsequenced, supports: [{ ...order.supports[0]!, lockPressurePa: 1e5 }] };
    expect(checkOf('order-and-speed', { order: early }).status).toBe('holds');
    const actuation = anActuation({ valve: null });
    expect(checkOf('order-and-speed', { order: early, actuation }).missing).toContainEqual({
      field: 'clampsLoadFromPa',
      ref: order.supports[0]!.ref,
    });
  });

  test('a support carries in proportion to its pressure, and no more than its rating', () => {
    const { order } = aPartProof();
    const [support] = order.supports;
    const loaded = (change: Partial<typeof support>) =>
      checkOf('order-and-speed', { order: { ...order, supports: [{ ...support!, ...change }] } });
    // 170 of 250 bar: 4760 N of 7000.
    expect(loaded({ highestLoadN: 4800 })).toMatchObject({ reason: 'support-overloaded', numbers: { kind: 'force' } });
    expect(loaded({ highestLoadN: 4800, ratedPressurePa: 100e5 }).status).toBe('holds');
    expect(loaded({ highestLoadN: 7100, ratedPressurePa: 100e5 }).status).toBe('fails');
    for (const change of [{ ratedLoadN: null }, { ratedPressurePa: null }, { ratedPressurePa: 0 }]) {
      expect(loaded(change).status).toBe('unproven');
    }
  });

  test('a swing clamp too fast, or above its arm’s chart; a group that is not there is none', () => {
    const { order } = aPartProof();
    const swing = (change: object) =>
      checkOf('order-and-speed', { order: { ...order, swingClamps: [{ ...order.swingClamps[0]!, ...change }] } });
    expect(swing({ highestFlowM3PerS: 5e-6 })).toMatchObject({ reason: 'flow-too-high', numbers: { kind: 'flow' } });
    expect(swing({ armPressurePa: 175e5 })).toMatchObject({ reason: 'pressure-above-arm-chart', stated: {} });
    expect(swing({ group: 7, armPressurePa: 1 }).status).toBe('holds');
    const unset = proveCircuit({
      pressureLadder: aPressureLadder({ settingPa: null }),
      sharedSupply: { others: [] },
      withoutSupply: { isDecoupled: false, timeWithoutS: null, coolingK: null, isProvedAgain: null },
      ...aPartProof({ actuation: anActuation({ valve: null }) }),
    }).checks.find(({ code }) => code === 'order-and-speed');
    expect(unset?.missing.map(({ field }) => field)).toEqual(
      expect.arrayContaining(['capacityN', 'pressurePa', 'flowM3PerS']),
    );
    const none = { ...order, supports: [], swingClamps: [] };
    expect(checkOf('order-and-speed', { order: none })).toMatchObject({
      status: 'not-applicable',
      reason: 'nothing-to-order',
    });
  });

  test('the reservoir feeds every circuit of its power unit', () => {
    const { reservoir } = aPartProof();
    const [ownOil] = reservoir.circuits;
    const single = checkOf('reservoir');
    const two = checkOf('reservoir', {
      reservoir: { ...reservoir, circuits: [ownOil!, { ...ownOil!, ref: ref('Pallet 2') }] },
    });
    expect(two.numbers?.nominal?.demand).toBeCloseTo(2 * Number(single.numbers?.nominal?.demand), 12);
    expect(checkOf('reservoir', { reservoir: { ...reservoir, usableVolumeM3: 1e-5 } }).reason).toBe(
      'reservoir-too-small',
    );
    expect(checkOf('reservoir', { reservoir: { ...reservoir, freeVolumeM3: 1e-6 } }).reason).toBe(
      'reservoir-overflows',
    );
    const blank = ownOil!.groups.map((group) => ({ ...group, boreM: null, strokeM: null, acting: null }));
    const many = { ...reservoir, circuits: [{ ...ownOil!, groups: blank }] };
    expect(checkOf('reservoir', { reservoir: many }).missing).toContainEqual({
      field: 'clampVolumeM3',
      ref: ownOil!.ref,
    });
    const few = {
      ...reservoir,
      circuits: [{ ...ownOil!, groups: ownOil!.groups.map((group) => ({ ...group, strokeM: null })) }],
    };
    expect(checkOf('reservoir', { reservoir: few }).missing).toContainEqual({ field: 'strokeM', ref: ref('support') });
  });
});
