import { findWorstStatus, pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import { findProbability } from '../src/pressure-ladder/judge-check.js';
import { isAbove, multiply } from '../src/pressure-ladder/span.js';
import type {
  ProvedCheck,
  PressureCheckCode,
  PressureLadderInput,
} from '../src/pressure-ladder/pressure-ladder.types.js';
import { switchWindow } from '../src/switching/switch-window.js';
import { aComponent, aPressureLadder, anOperation, ref } from './pressure-ladder-builder.js';

const check = (input: PressureLadderInput, code: PressureCheckCode): ProvedCheck => {
  const found = pressureLadder(input).checks.find((candidate) => candidate.code === code);
  if (!found) throw new Error(code);
  return found;
};
const bar = (pa: number | null | undefined): number | null => (pa == null ? null : pa / 1e5);
const trap = { canTrap: true, temperatureRiseK: 10, netExpansionPerK: 7e-4, bulkModulusPa: 1e9 };
const relief = { ref: ref('relief'), openingPressurePa: 190e5, fullFlowPressurePa: 205e5 };

describe('a circuit that is set right', () => {
  const result = pressureLadder(aPressureLadder());

  test('every check holds', () => {
    expect(result.checks.map(({ code, status, reason }) => [code, status, reason])).toEqual([
      ['holds-workpiece', 'holds', 'within'],
      ['no-nuisance-stop', 'holds', 'within'],
      ['setting-within-rating', 'holds', 'within'],
      ['highest-within-rating', 'holds', 'within'],
      ['workpiece-limit', 'holds', 'within'],
    ]);
    expect(result.status).toBe('holds');
  });

  test('the three views are reported', () => {
    const holds = check(aPressureLadder(), 'holds-workpiece');
    expect(holds.nominal).toEqual({ demandPa: 122e5, capacityPa: 140e5, marginPa: 18e5 });
    expect(holds.stated).toEqual({ demandPa: 122e5, capacityPa: 137e5, marginPa: 15e5 });
    expect(holds.worstCase).toEqual({ demandPa: 122e5, capacityPa: 133e5, marginPa: 11e5 });
    expect(holds.ratio).toBeCloseTo(122 / 137, 12);
    expect(holds.probability).toBe(1);
    expect(holds.subject?.name).toBe('roughing');
  });

  test('the window and where setting and switch would fit', () => {
    const { window } = result;
    expect(bar(window.lowPa)).toBe(120);
    expect(bar(window.highPa)).toBe(210);
    expect(window.exists).toBe(true);
    // the worst-case lines of switch-window, with the loss during the reaction as its margin
    const lines = switchWindow({
      requiredPa: 120e5, settingPa: Number(window.settingHighestPa), settingTolerancePa: 5e5, switchAccuracyPa: 3e5,
      deadbandPa: 12e5, marginPa: 2e5, gaugeErrorPa: 4e5,
    }); // prettier-ignore
    expect(bar(window.settingHighestPa)).toBeCloseTo(210 - 5 - 4, 9);
    expect(window.resetLowestPa).toBeCloseTo(lines.fallingLowestPa, 3);
    expect(window.resetHighestPa).toBeCloseTo(lines.fallingHighestPa, 3);
    expect(bar(window.settingLowestPa)).toBeCloseTo(129 + 12 + 7 + 5, 9);
  });

  test('the rungs, the weakest rating marked', () => {
    expect(
      result.rungs.map(({ code, pressurePa, isWeakest, basis }) => [code, bar(pressurePa), isWeakest, basis]),
    ).toEqual([
      ['required', 120, false, 'typed'],
      ['reset-point', 140, false, 'as-left'],
      ['set-point', 152, false, 'as-left'],
      ['pump-restart', 165, false, 'as-left'],
      ['setting', 175, false, 'as-left'],
      ['highest-possible', 210, false, 'air-driven-pump'],
      ['workpiece-limit', 210, false, 'typed'],
      ['rating', 400, false, 'rated-pressure'],
      ['rating', 250, true, 'rated-pressure'],
    ]);
    expect(result.rungs[4]?.parameters).toEqual({ gaugeErrorPa: 4e5, stallAtSetAirPa: 175e5, stallAtLowAirPa: 168e5 });
  });
});

describe('check 1: holds the workpiece', () => {
  test('the worst operation governs, an element that needs more as well', () => {
    const operations = [
      anOperation(),
      anOperation({ ref: ref('facing'), requiredPressurePa: 139e5, requiredBasis: 'computed' }),
    ];
    const found = check(aPressureLadder({ operations }), 'holds-workpiece');
    expect([found.status, found.reason, found.subject?.name]).toEqual(['fails', 'below-required', 'facing']);
    const leastWorking = [{ ref: ref('sequence valve'), leastWorkingPressurePa: 150e5 }];
    const least = pressureLadder(aPressureLadder({ leastWorking }));
    expect([least.checks[0]?.subject?.name, least.rungs[0]?.basis]).toEqual(['sequence valve', 'least-working']);
  });

  test('what is missing is named, nothing is assumed', () => {
    const operations = [anOperation(), anOperation({ ref: ref('drilling'), requiredPressurePa: null })];
    const leastWorking = [{ ref: ref('support'), leastWorkingPressurePa: null }];
    const hold = { decayRatePaPerS: null, reactionTimeS: null };
    const found = check(aPressureLadder({ operations, leastWorking, hold, gaugeErrorPa: null }), 'holds-workpiece');
    expect([found.status, found.reason, found.nominal, found.probability]).toEqual(['unproven', 'missing', null, null]);
    expect(found.missing.map(({ field, ref: of }) => [field, of?.name])).toEqual([
      ['requiredPressurePa', 'drilling'],
      ['leastWorkingPressurePa', 'support'],
      ['decayRatePaPerS', undefined],
      ['reactionTimeS', undefined],
      ['gaugeErrorPa', undefined],
    ]);
  });

  test('what is known already breaks it: fails, with what is missing still listed', () => {
    const operations = [
      anOperation({ requiredPressurePa: 145e5 }),
      anOperation({ ref: ref('drilling'), requiredPressurePa: null }),
    ];
    const found = check(aPressureLadder({ operations }), 'holds-workpiece');
    expect([found.status, found.reason, found.missing.length, bar(found.stated?.marginPa)]).toEqual([
      'fails',
      'below-required',
      1,
      -10,
    ]);
  });

  test('no operations: nothing to hold is not the same as held', () => {
    const found = check(aPressureLadder({ operations: [] }), 'holds-workpiece');
    expect([found.status, found.missing.map(({ field }) => field)]).toEqual(['unproven', ['operations']]);
  });

  test('a loss of nothing needs no reaction time', () => {
    expect(
      check(aPressureLadder({ hold: { decayRatePaPerS: 0, reactionTimeS: null } }), 'holds-workpiece'),
    ).toMatchObject({
      status: 'holds',
      missing: [],
    });
    expect(
      check(aPressureLadder({ hold: { decayRatePaPerS: -5e5, reactionTimeS: 2 } }), 'holds-workpiece').nominal
        ?.demandPa,
    ).toBe(120e5);
  });

  test('fine but for the gauge', () => {
    const found = check(aPressureLadder({ resetPointPa: 126e5 }), 'holds-workpiece');
    expect([found.status, found.reason]).toEqual(['marginal', 'gauge-error-decides']);
    expect(found.probability).toBeLessThan(1);
    expect(found.probability).toBeGreaterThan(0.9);
  });

  test('inside the margin asked for', () => {
    const marginsAsked = { ...aPressureLadder().marginsAsked, 'holds-workpiece': 0.1 };
    expect(check(aPressureLadder({ marginsAsked }), 'holds-workpiece')).toMatchObject({
      status: 'marginal',
      reason: 'inside-margin',
      marginAsked: 0.1,
    });
    const unknown = { ...marginsAsked, 'holds-workpiece': Number.NaN };
    expect(check(aPressureLadder({ marginsAsked: unknown }), 'holds-workpiece')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'marginAsked', ref: null }],
    });
  });

  test('bounds may leave it between marginal and holds', () => {
    expect(check(aPressureLadder({ gaugeErrorPa: null }), 'holds-workpiece').status).toBe('unproven');
    const marginsAsked = { ...aPressureLadder().marginsAsked, 'holds-workpiece': 0.11 };
    expect(check(aPressureLadder({ gaugeErrorPa: null, marginsAsked }), 'holds-workpiece')).toMatchObject({
      status: 'marginal',
      worstCase: null,
    });
  });
});

describe('check 2: no nuisance stop', () => {
  test('set point against the setting, the gauge once', () => {
    const found = check(aPressureLadder(), 'no-nuisance-stop');
    expect([bar(found.nominal?.marginPa), bar(found.stated?.marginPa), bar(found.worstCase?.marginPa)]).toEqual([
      23, 15, 11,
    ]);
    expect(check(aPressureLadder({ settingPa: 155e5 }), 'no-nuisance-stop')).toMatchObject({
      status: 'fails',
      reason: 'set-point-above-setting',
    });
    expect(
      check(aPressureLadder({ setPointPa: null, settingPa: null }), 'no-nuisance-stop').missing.map(
        ({ field }) => field,
      ),
    ).toEqual(['setPointPa', 'settingPa']);
  });
});

describe('check 3: setting within the weakest rating', () => {
  test('the derated rating counts; what sees no pressure does not', () => {
    const components = [
      aComponent({ ratedPressurePa: 220e5, deratingRatio: 0.8, ref: ref('old hose') }),
      aComponent({ ratedPressurePa: 10e5, lineFunctions: ['tank'] }),
    ];
    const found = check(aPressureLadder({ components }), 'setting-within-rating');
    expect([found.status, found.reason, found.subject?.name, bar(found.nominal?.capacityPa)]).toEqual([
      'fails',
      'above-rating',
      'old hose',
      176,
    ]);
  });

  test('a missing rating leaves it unproven, unless a known one is already broken', () => {
    const unknown = aComponent({ ratedPressurePa: null, ref: ref('coupler') });
    const found = check(aPressureLadder({ components: [aComponent(), unknown] }), 'setting-within-rating');
    expect([found.status, found.missing]).toEqual(['unproven', [{ field: 'ratedPressurePa', ref: ref('coupler') }]]);
    const broken = check(
      aPressureLadder({ components: [aComponent({ ratedPressurePa: 160e5 }), unknown] }),
      'setting-within-rating',
    );
    expect([broken.status, broken.missing.length]).toEqual(['fails', 1]);
    expect(check(aPressureLadder({ components: [] }), 'setting-within-rating').missing).toEqual([
      { field: 'components', ref: null },
    ]);
    expect(
      check(aPressureLadder({ components: [aComponent({ deratingRatio: Number.NaN })] }), 'setting-within-rating')
        .status,
    ).toBe('unproven');
  });
});

test('the weakest of several in any order, all equals marked', () => {
  const part = (bars: number, rodSideAreaRatio: number | null) =>
    aComponent({ ratedPressurePa: bars * 1e5, rodSideAreaRatio, lineFunctions: ['unclamp'] });
  const components = [part(250, 1.6), part(400, 1.3), part(250, null)];
  const result = pressureLadder(aPressureLadder({ components, unclampLineCanBlock: true }));
  expect(result.rungs.slice(7).map(({ isWeakest }) => isWeakest)).toEqual([true, false, true]);
  expect(result.checks[3]?.parameters.rodSideAreaRatio).toBe(1.6);
});

describe('check 4: highest possible within the ratings', () => {
  test('stall at the highest air, whatever a reducing valve says', () => {
    const pump = { ...aPressureLadder().pump, airPressureHighPa: 8e5 };
    const found = check(aPressureLadder({ pump, hasReducingValve: true }), 'highest-within-rating');
    expect(found).toMatchObject({ status: 'fails', reason: 'source-above-rating', governing: 'source' });
    expect(found.parameters).toMatchObject({ hasReducingValve: 1, hasRelief: 0, highestPossiblePa: 280e5 });
    expect(found.probability).toBe(0);
  });

  test('an electric pump by its own highest pressure', () => {
    const pump = { ...aPressureLadder().pump, drive: 'electric' as const, highestPressurePa: 240e5 };
    expect(check(aPressureLadder({ pump }), 'highest-within-rating')).toMatchObject({
      status: 'holds',
      probability: 1,
    });
    const unknown = { ...pump, highestPressurePa: null };
    expect(check(aPressureLadder({ pump: unknown }), 'highest-within-rating').missing).toEqual([
      { field: 'highestPressurePa', ref: null },
    ]);
  });

  test('a relief bounds it, even where the stall pressure is not known', () => {
    const pump = { ...aPressureLadder().pump, airPressureHighPa: null };
    expect(check(aPressureLadder({ pump }), 'highest-within-rating').status).toBe('unproven');
    const relieved = pressureLadder(aPressureLadder({ pump, relief }));
    expect(relieved.checks[3]).toMatchObject({ status: 'holds', missing: [] });
    expect(relieved.rungs[5]).toMatchObject({ basis: 'relief-full-flow', ref: relief.ref, pressurePa: null });
    const both = aPressureLadder({ pump, relief: { ...relief, fullFlowPressurePa: null } });
    expect(check(both, 'highest-within-rating').missing.map(({ field }) => field)).toEqual([
      'airPressureHighPa',
      'fullFlowPressurePa',
    ]);
  });

  test('an unknown stall efficiency is at most one', () => {
    const pump = { ...aPressureLadder().pump, stallEfficiencyRatio: null };
    expect(check(aPressureLadder({ pump }), 'highest-within-rating').status).toBe('holds');
    expect(pressureLadder(aPressureLadder({ pump })).rungs[4]?.parameters).toEqual({ gaugeErrorPa: 4e5 });
  });

  test('the relief must open above the setting', () => {
    const low = { ...relief, openingPressurePa: 178e5 };
    expect(check(aPressureLadder({ relief: low }), 'highest-within-rating')).toMatchObject({
      status: 'fails',
      reason: 'relief-opens-below-setting',
      governing: 'relief-opening',
      subject: low.ref,
    });
    const close = { ...relief, openingPressurePa: 182e5 };
    expect(check(aPressureLadder({ relief: close }), 'highest-within-rating')).toMatchObject({
      status: 'marginal',
      reason: 'gauge-error-decides',
    });
    const unknown = { ...relief, openingPressurePa: null };
    expect(check(aPressureLadder({ relief: unknown }), 'highest-within-rating')).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'openingPressurePa', ref: relief.ref }],
    });
  });

  test('trapped oil that warms up, relieved or not', () => {
    expect(check(aPressureLadder({ thermal: trap }), 'highest-within-rating')).toMatchObject({
      status: 'marginal',
      governing: 'trapped-oil',
      parameters: { thermalRisePa: 70e5 },
    });
    const hot = { ...trap, temperatureRiseK: 30 };
    expect(check(aPressureLadder({ thermal: hot }), 'highest-within-rating')).toMatchObject({
      status: 'fails',
      reason: 'trapped-oil-above-rating',
    });
    expect(check(aPressureLadder({ thermal: hot, relief }), 'highest-within-rating').status).toBe('holds');
    const elsewhere = { ...relief, relievesTrappedOil: false };
    expect(check(aPressureLadder({ thermal: hot, relief: elsewhere }), 'highest-within-rating').reason).toBe(
      'trapped-oil-above-rating',
    );
    const unknown = { ...trap, temperatureRiseK: null, bulkModulusPa: null };
    expect(
      check(aPressureLadder({ thermal: unknown }), 'highest-within-rating').missing.map(({ field }) => field),
    ).toEqual(['temperatureRiseK', 'bulkModulusPa']);
    const noFlow = { ...relief, fullFlowPressurePa: null };
    expect(check(aPressureLadder({ thermal: hot, relief: noFlow }), 'highest-within-rating').status).toBe('unproven');
    expect(
      check(aPressureLadder({ thermal: { ...trap, temperatureRiseK: -20 } }), 'highest-within-rating').status,
    ).toBe('holds');
  });

  test('a blocked unclamp line intensifies the pressure against its own weakest rating', () => {
    const cylinder = aComponent({ ref: ref('cylinder'), rodSideAreaRatio: 1.6, lineFunctions: ['clamp', 'unclamp'] });
    const components = [
      cylinder,
      aComponent({ ref: ref('unclamp hose'), ratedPressurePa: 250e5, lineFunctions: ['unclamp'] }),
    ];
    const found = check(aPressureLadder({ components, unclampLineCanBlock: true }), 'highest-within-rating');
    expect(found).toMatchObject({
      status: 'fails',
      reason: 'intensified-above-rating',
      governing: 'intensified',
      probability: 0,
    });
    expect([found.subject?.name, bar(found.nominal?.demandPa), found.parameters.rodSideAreaRatio]).toEqual([
      'unclamp hose',
      336,
      1.6,
    ]);
    const strong = [cylinder, aComponent({ ratedPressurePa: 340e5, lineFunctions: ['unclamp'] })];
    expect(
      check(aPressureLadder({ components: strong, unclampLineCanBlock: true }), 'highest-within-rating'),
    ).toMatchObject({
      status: 'holds',
      governing: 'intensified',
      probability: 1,
    });
    const noRatio = check(aPressureLadder({ unclampLineCanBlock: true }), 'highest-within-rating');
    expect([noRatio.status, noRatio.missing]).toEqual(['unproven', [{ field: 'rodSideAreaRatio', ref: null }]]);
  });
});

describe('check 9: the workpiece', () => {
  test('the least limit governs; warm-up counts', () => {
    const operations = [anOperation(), anOperation({ ref: ref('thin wall'), workpieceLimitPa: 178e5 })];
    expect(check(aPressureLadder({ operations }), 'workpiece-limit')).toMatchObject({
      status: 'fails',
      reason: 'above-workpiece-limit',
      subject: ref('thin wall'),
    });
    expect(check(aPressureLadder({ thermal: trap }), 'workpiece-limit')).toMatchObject({
      status: 'fails',
      parameters: { thermalRisePa: 70e5 },
    });
  });

  test('not limiting, by statement', () => {
    const operations = [anOperation({ workpieceNotLimiting: true, workpieceLimitPa: null })];
    const result = pressureLadder(aPressureLadder({ operations }));
    expect(result.checks[4]).toMatchObject({
      status: 'not-applicable',
      reason: 'not-limiting',
      nominal: null,
      missing: [],
    });
    expect(result.status).toBe('holds');
    expect(result.rungs[6]).toMatchObject({ pressurePa: null, basis: 'not-limiting' });
    expect(bar(result.window.highPa)).toBe(250);
  });

  test('less allowed than required: no window, whatever the setting', () => {
    const operations = [anOperation({ workpieceLimitPa: 110e5 })];
    const result = pressureLadder(aPressureLadder({ operations, settingPa: null }));
    expect(result.checks[4]).toMatchObject({ status: 'fails', reason: 'no-window' });
    expect(result.window).toMatchObject({ exists: false, settingLowestPa: null, settingHighestPa: null });
    expect(result.status).toBe('fails');
  });

  test('an unknown limit', () => {
    const operations = [anOperation({ workpieceLimitPa: null })];
    const result = pressureLadder(aPressureLadder({ operations }));
    expect(result.checks[4]).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'workpieceLimitPa', ref: ref('roughing') }],
    });
    expect(result.window).toMatchObject({ highPa: null, exists: null, settingHighestPa: null });
    expect(check(aPressureLadder({ operations: [] }), 'workpiece-limit').missing).toEqual([
      { field: 'operations', ref: null },
    ]);
  });
});

describe('the window', () => {
  const fit = (change: Partial<PressureLadderInput>): number | null =>
    bar(pressureLadder(aPressureLadder(change)).window.settingHighestPa);
  const notLimiting = [anOperation({ workpieceNotLimiting: true })];

  test('every bound counts', () => {
    expect(fit({ operations: notLimiting })).toBeCloseTo(250 - 9, 9);
    expect(fit({ operations: notLimiting, relief })).toBeCloseTo(190 - 9, 9);
    expect(fit({ operations: notLimiting, relief: { ...relief, openingPressurePa: null } })).toBeNull();
    expect(fit({ operations: notLimiting, thermal: trap })).toBeCloseTo(250 - 9 - 70, 9);
    expect(
      fit({ operations: notLimiting, thermal: trap, relief: { ...relief, relievesTrappedOil: false } }),
    ).toBeCloseTo(250 - 79, 9);
    expect(fit({ operations: notLimiting, thermal: { ...trap, bulkModulusPa: null } })).toBeNull();
    const components = [
      aComponent({ rodSideAreaRatio: 1.25, ratedPressurePa: 250e5, lineFunctions: ['clamp', 'unclamp'] }),
    ];
    expect(fit({ operations: notLimiting, unclampLineCanBlock: true, components })).toBeCloseTo(250 / 1.25 - 9, 9);
    expect(fit({ operations: notLimiting, unclampLineCanBlock: true })).toBeNull();
    expect(fit({ gaugeErrorPa: null })).toBeNull();
    expect(fit({ setPointPa: null })).toBeNull();
    expect(fit({ hold: { decayRatePaPerS: null, reactionTimeS: 2 } })).toBeNull();
    expect(fit({ operations: [anOperation({ requiredPressurePa: 185e5 })] })).toBeNull();
  });
});

test('the worst status', () => {
  expect(findWorstStatus([])).toBe('not-applicable');
  expect(findWorstStatus([{ status: 'holds' }, { status: 'marginal' }])).toBe('marginal');
  expect(findWorstStatus([{ status: 'unproven' }, { status: 'marginal' }])).toBe('unproven');
});

test('a width that cannot move the result is left out; no margin, no probability', () => {
  expect(findProbability({ marginPa: 0, halfWidthsPa: [3e5, 4e5, 1e-3] })).toBeCloseTo(0.5, 9);
  expect(findProbability({ marginPa: Infinity, halfWidthsPa: [] })).toBeNull();
  expect(findProbability(null)).toBeNull();
  expect(multiply({ lo: 0, hi: 0 }, { lo: 0, hi: Infinity })).toEqual({ lo: 0, hi: 0 });
  expect(isAbove(Infinity, Infinity)).toBe(false);
});
