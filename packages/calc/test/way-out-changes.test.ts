import type { CheckCode, CheckReason } from '../src/circuit-checks/checks.js';
import type { CircuitFacts, ComponentFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import type { FigureRef, ProvedCheck } from '../src/pressure-ladder/pressure-ladder.types.js';
import { applyChange, applyValue } from '../src/way-out/apply-change.js';
import { CHANGES } from '../src/way-out/changes.js';
import { listMends } from '../src/way-out/mends.js';
import { isAttainable, listSettingLevers, restartsBelow } from '../src/way-out/setting-levers.js';
import { findNearest, findRun, listSteps } from '../src/way-out/steps.js';
import { findWayOut } from '../src/way-out/find-way-out.js';
import { aCircuit, aControl, aFixture, aSupport, COMPONENTS, ELEMENT, READINGS, SETTINGS } from './facts-builder.js';

const asWired = aControl();
const [signal] = asWired.signals;
const [wire] = asWired.wires;
const ofElement = (name: string): FigureRef => ({ entity: 'fixture', id: 'fixture', name: `F-1: ${name}` });
const ofSignal: FigureRef = { entity: 'signal', id: signal!.id, name: 'Y21' };
const ofWire: FigureRef = { entity: 'wire', id: wire!.id, name: '210' };
const ofFixture: FigureRef = { entity: 'fixture', id: 'fixture', name: 'F-1' };
const idOf = (kind: ComponentFacts['kind']): string => COMPONENTS.find((one) => one.kind === kind)!.id;
const ofHose: FigureRef = { entity: 'installed-component', id: idOf('hose'), name: '' };

const FLOW_VALVE: ComponentFacts = {
  ...{ id: 'flow control', place: 'circuit', kind: 'flow-control-valve', name: '', lineFunctions: ['clamp'] },
  ...{ sensing: null, figures: { ratedPressure: 300e5, flowToCylinders: 1e-5, flowFromCylinders: 1e-5 } },
};
/** Pads of steel on aluminium: invented. */
const PADS = { padForm: 'sphere', padRadiusM: 0.25, contactModulusPa: 58.6e9, surfacePressureLimitPa: 3.3e8 } as const;
const single = { ...ELEMENT, acting: 'single', springForceN: 300 } as const;
const basis = aCircuit({
  fixture: aFixture({ elements: [{ ...ELEMENT, ...PADS }, aSupport(), { ...single, id: 'levers', name: 'Levers' }] }),
  circuit: {
    ...aCircuit().circuit,
    ...{ unclampLineCanBlock: true, isProvedAgain: false, hasOpenProof: false, timeWithoutSupplyS: 600 },
  },
  components: [
    ...COMPONENTS.map((each): ComponentFacts => {
      if (each.kind === 'pressure-switch') return { ...each, sensing: 'manifold' };
      return each.kind === 'hose' ? { ...each, figures: { ...each.figures, burstFlow: 3e-5 } } : each;
    }),
    FLOW_VALVE,
  ],
  control: {
    ...asWired,
    machine: {
      ...asWired.machine,
      hasSeparateCommons: false,
      behaviour: { ...asWired.machine.behaviour, alarmLatches: false },
    },
    signals: asWired.signals.map((one) => ({ ...one, isPolarityRight: false })),
    mCodes: asWired.mCodes.map((one) => ({ ...one, waitsForAnswer: false })),
  },
});

type Governing = ProvedCheck['governing'];
const listOf = (
  check: CheckCode,
  reason: CheckReason,
  subject: FigureRef | null = null,
  facts: CircuitFacts = basis,
  governing: Governing = undefined,
): string[] => listMends(facts, { code: check, reason, subject, governing }).map((lever) => lever.code);

/** What each part of a check can be mended by. */
const MENDED: readonly [CheckCode, CheckReason, FigureRef | null, Governing, string[]][] = [
  ['holds-workpiece', 'switch-senses-supply', null, undefined, ['move-switch']],
  [
    'holds-workpiece',
    'below-required',
    null,
    undefined,
    ['keep-unclamp-open', 'control-reaction', 'leak', 'return-pressure'],
  ],
  ['clamping-time', 'switch-without-movement', null, undefined, ['keep-unclamp-open']],
  ['holds-workpiece', 'no-pressure-holds', null, undefined, []],
  ['workpiece-limit', 'locator-overloaded', null, undefined, []],
  ['unclamping', 'check-valve-stays-shut', ofHose, undefined, []],
  ['unclamping', 'pilot-too-weak', ofHose, undefined, []],
  ['unclamping', 'pilot-below-areas', ofHose, undefined, []],
  [
    'order-and-speed',
    'flow-too-high-unclamping',
    ofElement('Swing clamps'),
    undefined,
    ['throttle-return', 'highest-flow'],
  ],
  ['no-nuisance-stop', 'gauge-error-decides', null, undefined, ['gauge-class', 'gauge-class']],
  ['workpiece-limit', 'pad-presses-too-hard', ofElement('Swing clamps'), undefined, ['pad-radius']],
  ['holds-workpiece', 'burst-hose', ofHose, undefined, ['burst-flow']],
  ['no-nuisance-stop', 'set-point-above-setting', null, undefined, []],
  ['setting-within-rating', 'above-rating', ofFixture, undefined, ['rating']],
  ['setting-within-rating', 'inside-margin', ofHose, undefined, ['rating']],
  ['setting-within-rating', 'inside-margin', ofElement('Swing clamps'), undefined, ['rating']],
  ['setting-within-rating', 'inside-margin', null, undefined, []],
  ['highest-within-rating', 'source-above-rating', ofFixture, 'source', ['relief', 'rating', 'plant-air-high']],
  ['highest-within-rating', 'inside-margin', ofFixture, undefined, ['relief', 'rating', 'plant-air-high']],
  ['highest-within-rating', 'trapped-oil-above-rating', ofFixture, 'trapped-oil', ['relief', 'rating']],
  [
    'highest-within-rating',
    'intensified-above-rating',
    ofFixture,
    'intensified',
    ['relief', 'keep-unclamp-open', 'rating', 'fit-relief'],
  ],
  ['highest-within-rating', 'relief-opens-below-setting', null, 'relief-opening', ['relief']],
  ['clamping-time', 'clamps-too-slowly', null, undefined, ['clamp-time', 'flow-to-cylinders', 'line-bore']],
  ['clamping-time', 'inside-margin', null, undefined, ['clamp-time', 'flow-to-cylinders', 'line-bore']],
  [
    'unclamping',
    'unclamps-too-slowly',
    null,
    undefined,
    [...['unclamp-time', 'return-pressure', 'spring-force', 'spring-force'], ...['flow-from-cylinders', 'line-bore']],
  ],
  ['unclamping', 'open-not-proved', null, undefined, ['prove-open']],
  ['unclamping', 'spring-too-weak', ofElement('Levers'), undefined, ['return-pressure', 'spring-force']],
  ['control-wiring', 'supply-too-small', null, undefined, ['supply-power']],
  ['control-wiring', 'inrush-too-large', null, undefined, ['supply-peak']],
  [
    'control-wiring',
    'voltage-at-coil',
    ofSignal,
    undefined,
    ['control-voltage', 'coil-voltage', 'coil-tolerance', 'cross-section'],
  ],
  ['control-wiring', 'duty-not-continuous', ofSignal, undefined, ['coil-duty']],
  ['control-wiring', 'no-suppression', ofSignal, undefined, ['fit-suppression']],
  ['control-wiring', 'no-suppression', null, undefined, []],
  ['control-wiring', 'output-overvoltage', ofSignal, undefined, ['output-rating', 'suppression-voltage']],
  ['control-wiring', 'polarity', ofSignal, undefined, ['polarity']],
  ['control-wiring', 'commons-not-separate', null, undefined, ['separate-commons']],
  ['control-wiring', 'protection-too-large', ofWire, undefined, ['protection']],
  ['control-wiring', 'insulation-too-low', ofWire, undefined, ['insulation']],
  ['interlock-sound', 'rule-broken', null, undefined, ['reaction', 'code-waits', 'code-waits']],
  ['shared-supply', 'other-station-pulls-down', null, undefined, ['shared-lowest']],
  ['shared-supply', 'restart-below-reset', null, undefined, ['restart-tolerance', 'shared-lowest']],
  ['holds-without-supply', 'falls-below-required', null, undefined, ['time-without', 'leak', 'return-pressure']],
  ['holds-without-supply', 'inside-margin', null, undefined, ['time-without', 'leak', 'return-pressure']],
  ['holds-without-supply', 'not-proved-again', null, undefined, ['prove-again']],
  ['order-and-speed', 'support-locks-late', ofElement('Support'), undefined, ['fit-sequence-valve']],
  ['order-and-speed', 'support-overloaded', ofElement('Support'), undefined, ['support-load']],
  ['order-and-speed', 'flow-too-high', ofElement('Swing clamps'), undefined, ['highest-flow']],
  ['order-and-speed', 'pressure-above-arm-chart', ofElement('Swing clamps'), undefined, ['arm-pressure']],
  ['reservoir', 'reservoir-too-small', null, undefined, ['usable-volume']],
  ['reservoir', 'reservoir-overflows', null, undefined, ['free-volume']],
];

describe('what can be changed', () => {
  it.each(MENDED)('%s, %s of %j (%s)', (check, reason, subject, governing, codes) => {
    expect(listOf(check, reason, subject, basis, governing)).toEqual(codes);
  });

  it('a relief that oil does not reach from where it is shut in is no relief of it: another one can be fitted', () => {
    const trapped = { ...basis, circuit: { ...basis.circuit, canTrap: true } };
    const codes = listOf('highest-within-rating', 'trapped-oil-above-rating', null, trapped, 'trapped-oil');
    expect(codes).toContain('fit-relief');
  });

  it('a relief that is not there, or of which nothing is known, is not set otherwise', () => {
    const isRelief = ({ kind }: { kind: string }) => kind === 'relief-valve';
    const without = { ...basis, components: basis.components.filter((each) => !isRelief(each)) };
    const unknown = {
      ...basis,
      components: basis.components.map((each) => (isRelief(each) ? { ...each, figures: {} } : each)),
    };
    for (const facts of [without, unknown])
      expect(
        listOf('highest-within-rating', 'relief-opens-below-setting', null, facts, 'relief-opening'),
      ).not.toContain('relief');
  });

  it('a relief is fitted where there is none that the source reaches', () => {
    const components = basis.components.filter(({ kind }) => kind !== 'relief-valve');
    const fixture = { entity: 'fixture', id: 'fixture', name: 'F-1' };
    expect(listOf('highest-within-rating', 'source-above-rating', fixture, { ...basis, components }, 'source')).toEqual(
      ['fit-relief', 'rating', 'plant-air-high'],
    );
  });

  it('each of them changes the facts, and only when it is made', () => {
    const before = JSON.stringify(basis);
    for (const [check, reason, subject, governing] of MENDED) {
      for (const lever of listMends(basis, { code: check, reason, subject, governing })) {
        const isFigure = CHANGES[lever.code].way !== 'only';
        const after = applyChange(basis, { ...lever, lowest: isFigure ? 7 : null, highest: null });
        expect(JSON.stringify(after)).not.toBe(before);
      }
    }
    expect(JSON.stringify(basis)).toBe(before);
  });

  it('a switch in the clamp line is moved only where it is known to stand before what shuts the clamps off', () => {
    const codes = [true, false, null].map((isBeyondShutOff) => {
      const components = basis.components.map((one) =>
        one.kind === 'pressure-switch' ? { ...one, sensing: 'clamp-line' as const, isBeyondShutOff } : one,
      );
      return listOf('holds-workpiece', 'switch-senses-supply', null, { ...basis, components });
    });
    expect(codes).toEqual([[], ['move-switch'], []]);
  });

  it('a figure that nobody knows is none to change', () => {
    const { components, control } = basis;
    const unknown: CircuitFacts = {
      ...basis,
      ...{ fixture: null, settings: { inUse: null, isAsLeft: false, readings: null } },
      components: components.filter(({ kind }) => kind !== 'pump').map((one) => ({ ...one, figures: {} })),
      control: { ...control, signals: [], wires: [], circuits: [] },
      circuit: { ...basis.circuit, unclampLineCanBlock: false, isProvedAgain: null },
    };
    const all = MENDED.flatMap(([check, reason, subject, governing]) =>
      listOf(check, reason, subject, unknown, governing),
    );
    const still = ['move-switch', 'control-reaction', 'fit-relief', 'plant-air-high', 'clamp-time', 'unclamp-time', 'return-pressure', 'prove-open', 'supply-power', 'supply-peak', 'control-voltage', 'fit-suppression', 'output-rating', 'separate-commons', 'reaction', 'time-without', 'fit-sequence-valve']; // prettier-ignore
    expect(new Set(all)).toEqual(new Set(still));
  });

  it('what stands there is set otherwise rather than fitted once more', () => {
    const relief: ComponentFacts = {
      ...COMPONENTS.find(({ kind }) => kind === 'relief-valve')!,
      place: 'circuit',
      lineFunctions: ['clamp'],
    };
    const valve: ComponentFacts = {
      ...relief,
      id: 'sequence',
      kind: 'sequence-valve',
      figures: { openingPressure: 20e5 },
    };
    const facts = {
      ...basis,
      components: [...COMPONENTS.filter(({ kind }) => kind !== 'relief-valve'), relief, valve],
    };
    expect(listOf('highest-within-rating', 'relief-opens-below-setting', null, facts, 'relief-opening')).toEqual([
      'relief',
    ]);
    expect(listOf('order-and-speed', 'support-locks-late', ofElement('Support'), facts)).toEqual(['sequence-valve']);
    const [lever] = listMends(facts, {
      code: 'order-and-speed',
      reason: 'support-locks-late',
      subject: null,
      governing: undefined,
    });
    const opened = applyValue(facts, lever!, 45e5).components.find(({ id }) => id === 'sequence');
    expect(opened?.figures).toEqual({ openingPressure: 45e5, leastWorkingPressure: 45e5 });
    const unset = {
      ...facts,
      components: [
        { ...valve, figures: {} },
        { ...relief, figures: {} },
      ],
    };
    expect(listOf('order-and-speed', 'support-locks-late', null, unset)).toEqual([]);
    expect(listOf('highest-within-rating', 'relief-opens-below-setting', null, unset, 'relief-opening')).toEqual([]);
  });

  it('only a switch of the power unit is heard where the circuit has none of its own', () => {
    const onUnit = basis.components.map((one) =>
      one.kind === 'pressure-switch' ? { ...one, place: 'power-unit' as const } : one,
    );
    expect(listOf('holds-workpiece', 'switch-senses-supply', null, { ...basis, components: onUnit })).toEqual([
      'move-switch',
    ]);
  });
});

describe('figures that are tried', () => {
  const lever = {
    ...listMends(basis, {
      code: 'clamping-time',
      reason: 'clamps-too-slowly',
      subject: null,
      governing: undefined,
    })[0]!,
  };

  it('are round, the nearest first, up or down; of nothing there is none', () => {
    expect(listSteps({ ...lever, from: 3 }, 'up').slice(0, 3)).toEqual([3.1, 3.2, 3.3]);
    expect(listSteps({ ...lever, from: 3 }, 'down').slice(0, 2)).toEqual([2.9, 2.8]);
    expect(listSteps({ ...lever, code: 'protection', from: 6 }, 'down').slice(0, 2)).toEqual([5, 4]);
    expect(listSteps({ ...lever, from: 0 }, 'up')).toEqual([]);
    expect(listSteps({ ...lever, from: null }, 'up')).toEqual([]);
  });

  it('the nearest that is enough is found, and the first run that is right', () => {
    expect(findNearest([1, 2, 3, 4, 5], (figure) => figure >= 3)).toBe(3);
    expect(findNearest([1, 2], () => false)).toBeNull();
    expect(findNearest([], () => true)).toBeNull();
    expect(findRun([1, 2, 3, 4], (figure) => figure === 2 || figure === 3)).toEqual({ lowest: 2, highest: 3 });
    expect(findRun([1, 2], (figure) => figure === 2)).toEqual({ lowest: 2, highest: 2 });
    expect(findRun([1, 2], () => false)).toBeNull();
  });
});

describe('what is read again', () => {
  const lowest = {
    ...listMends(basis, {
      code: 'shared-supply',
      reason: 'other-station-pulls-down',
      subject: null,
      governing: undefined,
    })[0]!,
  };
  const readAt = (facts: CircuitFacts) => applyValue(facts, lowest, 155e5).settings.readings;

  it('keeps the rest at the settings at which it was read', () => {
    expect(readAt(basis)).toEqual({ ...READINGS, lowestWhileSharedPa: 155e5 });
  });

  it('at another setting nothing else counts as read; the leak is as large as it is reckoned there, with another fixture it is not known', () => {
    const inUse = { ...SETTINGS, settingPa: 2 * Number(SETTINGS.settingPa) };
    const elsewhere = { ...basis, settings: { ...basis.settings, inUse } };
    expect(readAt(elsewhere)).toMatchObject({
      settingPa: 350e5,
      clampTimeS: null,
      decayPa: 6e5,
      lowestWhileSharedPa: 155e5,
    });
    expect(readAt({ ...elsewhere, fixture: null })).toMatchObject({ fixtureId: null, decayPa: null });
    const unread = { ...READINGS, decayPa: null, settingPa: null };
    expect(readAt({ ...elsewhere, settings: { ...elsewhere.settings, readings: unread } })).toMatchObject({
      decayPa: null,
    });
    const unset = { ...inUse, settingPa: null };
    expect(readAt({ ...basis, settings: { ...basis.settings, inUse: unset } })).toMatchObject({
      settingPa: null,
      decayPa: 3e5,
    });
  });

  it('where nothing is set or read there is nothing to change', () => {
    const none = { ...basis, settings: { inUse: null, isAsLeft: false, readings: null } };
    for (const reason of ['other-station-pulls-down', 'falls-below-required'] as const) {
      for (const lever of listMends(basis, { code: 'shared-supply', reason, subject: null, governing: undefined })) {
        const { settings } = applyValue(none, lever, 1);
        expect(settings).toEqual(none.settings);
      }
    }
    const setting = { ...lowest, code: 'setting', holder: 'settings', field: 'settingPa' } as const;
    expect(applyValue(none, setting, 1)).toBe(none);
    const rating = { ...lowest, code: 'rating', holder: 'element', field: 'ratedPressurePa' } as const;
    expect(applyValue({ ...basis, fixture: null }, rating, 1).fixture).toBeNull();
    expect(applyValue({ ...basis, fixture: null }, { ...rating, holder: 'fixture' }, 1).fixture).toBeNull();
    const unset = { ...basis, settings: { ...basis.settings, inUse: { ...SETTINGS, resetPointPa: null } } };
    const setPoint = { ...setting, code: 'set-point', field: 'setPointPa' } as const;
    expect(applyValue(unset, setPoint, 150e5).settings.inUse?.setPointPa).toBe(150e5);
  });
});

describe('what is set', () => {
  const { settings, powerUnit } = basis;
  const withSettings = (change: Partial<typeof SETTINGS>): CircuitFacts => ({
    ...basis,
    settings: { ...settings, inUse: { ...SETTINGS, ...change } },
  });

  it('of what is not known there is nothing to set; air reaches as far as plant air does, where that is known', () => {
    expect([...listSettingLevers({ ...basis, settings: { ...settings, inUse: null } }).keys()]).toEqual([
      'switch-accuracy',
      'plant-air-low',
      'pump-ratio',
    ]);
    expect(listSettingLevers(basis).get('air-pressure')?.highest).toBe(powerUnit.plantAirHighPa);
    const unsaid = { ...basis, powerUnit: { ...powerUnit, plantAirHighPa: null, plantAirLowPa: null } };
    expect(listSettingLevers(unsaid).get('air-pressure')?.highest).toBe(16e5);
    expect(listSettingLevers(unsaid).has('plant-air-low')).toBe(false);
    const levers = listSettingLevers(
      withSettings({ airPressurePa: null, resetPointPa: null, settingTolerancePa: 0.2e5 }),
    );
    expect([...levers.keys()]).toEqual([
      'setting',
      'set-point',
      'pump-restart',
      'switch-accuracy',
      'plant-air-low',
      'pump-ratio',
    ]);
  });

  it('a pump lifts no higher than it stalls, and starts again below where it stops', () => {
    expect(isAttainable(withSettings({ settingPa: 176e5 }))).toBe(true);
    expect(isAttainable(withSettings({ settingPa: 177e5 }))).toBe(false);
    expect(isAttainable(withSettings({ settingPa: null }))).toBe(true);
    expect(isAttainable(withSettings({ settingPa: 900e5, airPressurePa: null }))).toBe(true);
    expect(isAttainable({ ...basis, settings: { ...settings, inUse: null } })).toBe(true);
    expect(restartsBelow(withSettings({ pumpRestartPa: 174e5 }))).toBe(true);
    expect(restartsBelow(withSettings({ pumpRestartPa: 175e5 }))).toBe(false);
    expect(restartsBelow(withSettings({ settingPa: null }))).toBe(true);
    expect(restartsBelow({ ...basis, settings: { ...settings, inUse: null } })).toBe(true);
  });
});

describe('what mends a circuit', () => {
  const codesOf = (facts: CircuitFacts): string[] => findWayOut(facts).changes.map((change) => change.code);
  const holdsThen = (facts: CircuitFacts): void => {
    const { outcome, changes } = findWayOut(facts);
    expect(outcome).toBe('whole');
    expect(proveFacts(changes.reduce((made, change) => applyChange(made, change), facts)).status).toBe('holds');
  };

  it('two reactions of a control that break it together are both changed, and no other', () => {
    const behaviour = { ...asWired.machine.behaviour, onReset: 'unclamp', onPressureLoss: 'nothing' } as const;
    const facts = aCircuit({ control: { ...asWired, machine: { ...asWired.machine, behaviour } } });
    expect(codesOf(facts)).toEqual(['reaction', 'reaction']);
    holdsThen(facts);
    const unsaid = { ...asWired, machine: { ...asWired.machine, behaviour: {} } };
    expect(listOf('interlock-sound', 'rule-broken', null, aCircuit({ control: unsaid }))).toEqual([]);
  });

  it('a sequence valve that opens before the supports have locked is set higher', () => {
    const valve: ComponentFacts = {
      ...COMPONENTS[0]!,
      ...{ id: 'sequence', kind: 'sequence-valve', name: 'Sequence valve', lineFunctions: ['clamp'] },
      figures: { ratedPressure: 300e5, openingPressure: 30e5, leastWorkingPressure: 30e5 },
    };
    const fixture = aFixture({ elements: [ELEMENT, aSupport()] });
    const facts = aCircuit({ components: [...COMPONENTS, valve], fixture });
    const { changes } = findWayOut(facts);
    const [change] = changes.filter((one) => one.code === 'sequence-valve');
    expect(change?.lowest).toBeGreaterThanOrEqual(40e5);
    const after = proveFacts(changes.reduce((made, one) => applyChange(made, one), facts));
    expect(after.checks.filter(({ status }) => status === 'fails' || status === 'marginal')).toEqual([]);
  });

  it('a coil for another voltage than that of the supply is exchanged', () => {
    const components = COMPONENTS.map((one) =>
      one.kind === 'directional-valve' ? { ...one, figures: { ...one.figures, coilVoltage: 110 } } : one,
    );
    const facts = aCircuit({ components });
    expect(codesOf(facts)).toEqual(['coil-voltage']);
    holdsThen(facts);
  });

  it('a spring that its friction holds is exchanged for a stronger one, and no stronger than it has to be', () => {
    const facts = aCircuit({
      fixture: aFixture({ elements: [{ ...single, springForceN: 60, frictionN: 80 }] }),
      circuit: { ...aCircuit().circuit, returnPressurePa: 0 },
    });
    const { changes } = findWayOut(facts);
    const [change] = changes.filter((one) => one.code === 'spring-force');
    expect(change).toMatchObject({ field: 'springForceN', from: 60, lowest: change?.highest });
  });
});
