import fc from 'fast-check';
import { pressureLadder } from '../src/pressure-ladder/pressure-ladder.js';
import type {
  ProvedCheck,
  PressureCheckCode,
  PressureLadderInput,
} from '../src/pressure-ladder/pressure-ladder.types.js';
import { aComponent, aPressureLadder, anOperation, ref } from './pressure-ladder-builder.js';

const check = (input: PressureLadderInput, code: PressureCheckCode): ProvedCheck => {
  const found = pressureLadder(input).checks.find((candidate) => candidate.code === code);
  if (!found) throw new Error(code);
  return found;
};
const trap = { canTrap: true, temperatureRiseK: 10, netExpansionPerK: 7e-4, bulkModulusPa: 1e9 };

describe('properties', () => {
  const figure = fc.option(
    fc.oneof(fc.double({ min: 0, max: 5e7, noNaN: true }), fc.constantFrom(0, Number.NaN, Infinity, -1, 1e300)),
    { nil: null },
  );
  const share = fc.double({ min: 0, max: 0.5, noNaN: true });
  const operation = fc.record({
    ref: fc.constant(ref('op')),
    requiredPressurePa: figure,
    requiredBasis: fc.constantFrom('typed' as const, 'computed' as const),
    workpieceLimitPa: figure,
    workpieceNotLimiting: fc.boolean(),
  });
  const component = fc.record({
    ref: fc.constant(ref('part')), kind: fc.constant('hose'), ratedPressurePa: figure, deratingRatio: fc.constantFrom(1, 0.8, 0, Number.NaN),
    lineFunctions: fc.subarray(['supply', 'clamp', 'unclamp', 'tank'] as const), rodSideAreaRatio: fc.option(fc.constantFrom(1.3, 2, Infinity), { nil: null }),
  }); // prettier-ignore
  const any: fc.Arbitrary<PressureLadderInput> = fc.record({
    operations: fc.array(operation, { maxLength: 3 }),
    leastWorking: fc.array(fc.record({ ref: fc.constant(ref('support')), leastWorkingPressurePa: figure }), { maxLength: 2 }),
    setPointPa: figure, resetPointPa: figure, switchAccuracyPa: figure, settingPa: figure, settingHalfWidthPa: figure, gaugeErrorPa: figure,
    hasReducingValve: fc.boolean(),
    pump: fc.record({
      drive: fc.constantFrom('air' as const, 'electric' as const), pistonRatio: figure, stallEfficiencyRatio: figure, airPressurePa: figure,
      airPressureLowPa: figure, airPressureHighPa: figure, highestPressurePa: figure, restartPressurePa: figure, restartHalfWidthPa: figure,
    }),
    relief: fc.option(fc.record({ ref: fc.constant(ref('relief')), openingPressurePa: figure, fullFlowPressurePa: figure, relievesTrappedOil: fc.boolean() }), { nil: null }),
    thermal: fc.record({ canTrap: fc.boolean(), temperatureRiseK: figure, netExpansionPerK: figure, bulkModulusPa: figure }),
    hold: fc.record({ decayRatePaPerS: figure, reactionTimeS: figure }),
    components: fc.array(component, { maxLength: 4 }),
    unclampLineCanBlock: fc.boolean(),
    marginsAsked: fc.record({ 'holds-workpiece': share, 'no-nuisance-stop': share, 'setting-within-rating': share, 'highest-within-rating': share, 'workpiece-limit': share }),
  }); // prettier-ignore
  const realistic: fc.Arbitrary<PressureLadderInput> = fc
    .record({
      required: fc.integer({ min: 50, max: 200 }),
      limit: fc.integer({ min: 80, max: 300 }),
      reset: fc.integer({ min: 60, max: 200 }),
      band: fc.integer({ min: 1, max: 20 }),
      setting: fc.integer({ min: 80, max: 250 }),
      width: fc.integer({ min: 0, max: 10 }),
      rating: fc.integer({ min: 100, max: 400 }),
      gauge: fc.integer({ min: 0, max: 8 }),
      canTrap: fc.boolean(),
    })
    .map(
      (n) =>
      aPressureLadder({
        operations: [anOperation({ requiredPressurePa: n.required * 1e5, workpieceLimitPa: n.limit * 1e5 })],
        resetPointPa: n.reset * 1e5, setPointPa: (n.reset + n.band) * 1e5, settingPa: n.setting * 1e5, settingHalfWidthPa: n.width * 1e5, gaugeErrorPa: n.gauge * 1e5,
        components: [aComponent({ ratedPressurePa: n.rating * 1e5 })], thermal: { ...trap, canTrap: n.canTrap },
      }), // prettier-ignore
    );
  const rank = { holds: 0, marginal: 1, unproven: 2, fails: 3, 'not-applicable': -1 };
  const worse = (
    before: PressureLadderInput,
    after: PressureLadderInput,
    codes: readonly PressureCheckCode[],
  ): boolean => codes.every((code) => rank[check(after, code).status] >= rank[check(before, code).status]);

  test('never throws, reports only finite numbers, and says what is missing when unproven', () => {
    fc.assert(
      fc.property(any, (input) => {
        const result = pressureLadder(input);
        const visit = (value: unknown): boolean =>
          typeof value === 'number'
            ? Number.isFinite(value)
            : typeof value !== 'object' || value === null || Object.values(value).every(visit);
        const isFinite = visit({ ...result, checks: result.checks.map(({ parameters, ...rest }) => rest) });
        const isExplained = result.checks.every(({ status, missing }) => status !== 'unproven' || missing.length > 0);
        const isProbable = result.checks.every(
          ({ probability }) => probability === null || (probability >= 0 && probability <= 1),
        );
        return isFinite && isExplained && isProbable;
      }),
      { numRuns: 1500 },
    );
  });

  test('trapped oil that cools raises nothing, however far; figures that make no possible pressure are asked for again', () => {
    const judge = (thermal: Partial<PressureLadderInput['thermal']>) =>
      check(aPressureLadder({ thermal: { ...trap, ...thermal } }), 'workpiece-limit');
    expect(judge({ temperatureRiseK: 2e7, netExpansionPerK: -1, bulkModulusPa: 5e7 })).toMatchObject({
      status: judge({ temperatureRiseK: 0 }).status,
      parameters: { thermalRisePa: 0 },
      missing: [],
    });
    expect(judge({ temperatureRiseK: 3e7, netExpansionPerK: 1, bulkModulusPa: 5e7 })).toMatchObject({
      status: 'unproven',
      missing: [{ field: 'temperatureRiseK' }, { field: 'netExpansionPerK' }, { field: 'bulkModulusPa' }],
    });
  });

  test('a lower rating or a lower workpiece limit never improves anything', () => {
    fc.assert(
      fc.property(realistic, fc.double({ min: 0.5, max: 1, noNaN: true }), (input, factor) => {
        const components = input.components.map((part) => ({
          ...part,
          ratedPressurePa: Number(part.ratedPressurePa) * factor,
        }));
        const operations = input.operations.map((op) => ({
          ...op,
          workpieceLimitPa: Number(op.workpieceLimitPa) * factor,
        }));
        return (
          worse(input, { ...input, components }, ['setting-within-rating', 'highest-within-rating']) &&
          worse(input, { ...input, operations }, ['workpiece-limit'])
        );
      }),
    );
  });

  test('a wider error or a higher required pressure never improves anything', () => {
    fc.assert(
      fc.property(realistic, fc.integer({ min: 0, max: 20 }), (input, more) => {
        const every = ['holds-workpiece', 'no-nuisance-stop', 'setting-within-rating', 'workpiece-limit'] as const;
        const operations = input.operations.map((op) => ({
          ...op,
          requiredPressurePa: Number(op.requiredPressurePa) + more * 1e5,
        }));
        return (
          worse(input, { ...input, gaugeErrorPa: Number(input.gaugeErrorPa) + more * 1e5 }, every) &&
          worse(input, { ...input, switchAccuracyPa: Number(input.switchAccuracyPa) + more * 1e5 }, every) &&
          worse(input, { ...input, settingHalfWidthPa: Number(input.settingHalfWidthPa) + more * 1e5 }, every) &&
          worse(input, { ...input, operations }, ['holds-workpiece'])
        );
      }),
    );
  });

  test('knowing less never turns a check to holds or marginal', () => {
    const keys = [
      'setPointPa',
      'resetPointPa',
      'switchAccuracyPa',
      'settingPa',
      'settingHalfWidthPa',
      'gaugeErrorPa',
    ] as const;
    fc.assert(
      fc.property(realistic, fc.constantFrom(...keys), (input, key) => {
        const before = pressureLadder(input).checks;
        const after = pressureLadder({ ...input, [key]: null }).checks;
        return after.every(
          ({ status }, index) =>
            status === 'unproven' ||
            rank[status] >= Math.min(rank[before[index]?.status ?? 'fails'], 3) ||
            status === 'fails',
        );
      }),
    );
  });

  test('a setting and switch inside the window make every setting check hold', () => {
    fc.assert(
      fc.property(realistic, fc.double({ min: 0, max: 1, noNaN: true }), (input, at) => {
        const { window } = pressureLadder(input);
        fc.pre(window.settingLowestPa !== null && window.settingHighestPa !== null && window.resetLowestPa !== null);
        const settingPa = Number(window.settingLowestPa) * (1 - at) + Number(window.settingHighestPa) * at;
        const resetPointPa = Number(window.resetLowestPa);
        const deadband = Number(input.setPointPa) - Number(input.resetPointPa);
        const fitted = { ...input, settingPa, resetPointPa, setPointPa: resetPointPa + deadband };
        return (['holds-workpiece', 'no-nuisance-stop', 'setting-within-rating', 'workpiece-limit'] as const).every(
          (code) => check(fitted, code).status === 'holds',
        );
      }),
    );
  });
});
