import { readFileSync } from 'node:fs';
import path from 'node:path';
import { countCusumArl } from '../src/counts/count-cusum-arl.js';
import { countCusumDesign } from '../src/counts/count-cusum-design.js';
import { driftCrossing } from '../src/counts/drift-crossing.js';
import { ewmaArl } from '../src/counts/ewma-arl.js';
import { gammaPoisson } from '../src/counts/gamma-poisson.js';
import { normalCusumArl } from '../src/counts/normal-cusum-arl.js';
import { weibullLife } from '../src/counts/weibull-life.js';
import { weibullReliability } from '../src/counts/weibull-reliability.js';
import { millingForce } from '../src/cutting/milling-force.js';
import { CalcInputError, requireFinite } from '../src/errors.js';
import { frictionFactor } from '../src/lines/friction-factor.js';
import { oilViscosity } from '../src/oil/oil-viscosity.js';
import { toViscosityIndex } from '../src/oil/viscosity-index.js';
import { calculate, findCalculation } from '../src/registry/registry.js';
import { toGot } from '../src/registry/problem.js';
import { toDifferenceUnit } from '../src/registry/like-fields.js';
import { tubeRating } from '../src/strength/tube-rating.js';
import { switchWindow } from '../src/switching/switch-window.js';
import { leakDown } from '../src/trapped-oil/leak-down.js';

interface IndependentRow {
  id: string;
  inputs: Record<string, unknown>;
  expected: Record<string, number>;
}
const independent = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/statistics.json'), 'utf8')) as {
  rows: IndependentRow[];
};

test.each(independent.rows.map((row, index) => [`${row.id} ${index}`, row] as const))(
  '%s agrees with SciPy',
  (_name, { id, inputs, expected }) => {
    const { result } = calculate(id, inputs);
    for (const [name, value] of Object.entries(expected)) {
      const ours = Number(result?.[name]);
      expect([name, Math.abs(ours - value) <= 1e-7 * Math.abs(value)]).toEqual([name, true]);
    }
  },
);

describe('run lengths', () => {
  test('a chart that cannot signal has none', () => {
    const chart = { k: 2, h: 5, mean: 0, headstart: 0, direction: 'upper' as const };
    expect(countCusumArl(chart).arl).toBeNull();
    expect(countCusumArl({ ...chart, k: 0, mean: 3, direction: 'lower' }).arl).toBeNull();
    expect(countCusumArl({ ...chart, k: 2, direction: 'lower' }).arl).toBe(3);
    expect(countCusumArl({ ...chart, inControlMean: 0, outOfControlMean: 3 })).toMatchObject({ arl: null, arl0: null });
  });

  test('no common step, too many states, a start at the limit', () => {
    const chart = { k: 2, h: 5, mean: 1, headstart: 0, direction: 'upper' as const };
    expect(() => countCusumArl({ ...chart, k: Math.SQRT2 })).toThrow('a common step');
    expect(() => countCusumArl({ ...chart, h: 5000 })).toThrow('coarser step');
    expect(() => countCusumArl({ ...chart, headstart: 5 })).toThrow('a head start below h');
    expect(() => countCusumDesign({ inControlMean: 2, outOfControlMean: 1, targetArl0: 100, step: 0.1 })).toThrow(
      'above that in control',
    );
    expect(countCusumDesign({ inControlMean: 1, outOfControlMean: 2, targetArl0: 0, step: 1 }).h).toBe(1);
    expect(() => normalCusumArl({ k: 0.5, h: 300, shift: 0, sided: 'one', headstart: 0 })).toThrow('at most 245');
    expect(() => normalCusumArl({ k: 0.5, h: 4, shift: 0, sided: 'two', headstart: 1 })).toThrow('one side only');
    expect(() => normalCusumArl({ k: 0.5, h: 4, shift: 0, sided: 'one', headstart: 4 })).toThrow('below h');
    expect(() => ewmaArl({ lambda: 1e-5, limit: 3, shift: 0 })).toThrow('larger lambda');
  });

  test('long runs keep their digits: ln(arl) grows by 2k·h', () => {
    const at = (h: number): number => Math.log(normalCusumArl({ k: 1, h, shift: 0, sided: 'one', headstart: 0 }).arl);
    expect(at(14) - at(13)).toBeCloseTo(2, 3);
  });
});

describe('life and drift', () => {
  test('what a prior and counts cannot tell', () => {
    const input = { priorShape: 0, priorExposure: 0, events: 0, exposure: 10, confidence: 0.9 };
    expect(() => gammaPoisson(input)).toThrow('a prior shape or events');
    expect(() => gammaPoisson({ ...input, events: 1, exposure: 0 })).toThrow('an exposure above zero');
    expect(gammaPoisson({ ...input, events: 1 })).not.toHaveProperty('probabilityZero');
  });

  test('hazard at age zero', () => {
    const input = { scale: 100, age: 0 };
    expect(weibullReliability({ ...input, shape: 0.5 })).toMatchObject({ hazard: null, reliability: 1 });
    expect(weibullReliability({ ...input, shape: 1 }).hazard).toBe(0.01);
    expect(weibullReliability({ ...input, shape: 2 })).toMatchObject({ hazard: 0 });
  });

  test('a suspension at the age of a failure comes after it; ten failures need no note', () => {
    const failures = [100, 200, 300];
    const same = weibullLife({ failures, suspensions: [200], method: 'rank' });
    expect(same).toEqual(weibullLife({ failures, suspensions: [200.0001], method: 'rank' }));
    expect(
      weibullLife({ failures: Array.from({ length: 10 }, (_, i) => 100 + i), suspensions: [], method: 'ml' }).notes,
    ).toEqual([]);
    expect(() => weibullLife({ failures: [5, 5], suspensions: [], method: 'ml' })).toThrow('two different failures');
    expect(() => weibullLife({ failures: [1, 1 + 1e-15], suspensions: [], method: 'ml' })).toThrow(CalcInputError);
  });

  test('ranks on a half go to the even one; all at one time is refused', () => {
    const series = (values: readonly number[]) => values.map((value, time) => ({ time, value }));
    for (const confidence of [0, 0.1, 0.3, 0.5, 0.7, 0.9]) {
      const { slope, slopeLower, slopeUpper } = driftCrossing({
        series: series([1, 3, 2, 5, 4, 7]),
        threshold: 10,
        confidence,
      });
      expect(slopeLower).toBeLessThanOrEqual(slope);
      expect(slopeUpper).toBeGreaterThanOrEqual(slope);
    }
    expect(() =>
      driftCrossing({
        series: [
          { time: 1, value: 1 },
          { time: 1, value: 2 },
          { time: 1, value: 3 },
        ],
        threshold: 0,
        confidence: 0.9,
      }),
    ).toThrow('two times');
  });
});

describe('limits of formulas', () => {
  test('friction methods outside their range say so', () => {
    const codes = (
      reynolds: number,
      method: 'colebrook' | 'swamee-jain' | 'blasius' | 'line',
      relativeRoughness = 0,
    ): string[] => frictionFactor({ reynolds, relativeRoughness, method }).notes.map(({ code }) => code);
    expect(codes(1e5, 'blasius')).toEqual([]);
    expect(codes(1e6, 'blasius')).toEqual(['reynolds-outside-method']);
    expect(codes(100, 'colebrook')).toEqual(['reynolds-outside-method']);
    expect(codes(3000, 'line')).toEqual(['transitional-flow']);
    expect(codes(1e5, 'swamee-jain', 0.1)).toEqual(['rough-line']);
    expect(frictionFactor({ reynolds: 1e5, relativeRoughness: 0, method: 'blasius' }).frictionFactor).toBeCloseTo(
      0.3164 / 1e5 ** 0.25,
      12,
    );
    const colebrook = (reynolds: number): number =>
      frictionFactor({ reynolds, relativeRoughness: 1e-5, method: 'colebrook' }).frictionFactor;
    expect(colebrook(1)).toBeGreaterThan(colebrook(10));
  });

  test('oils that the definitions have no answer for', () => {
    const at = { viscosityIndex: 95, temperatureK: 313.15 };
    expect(() => oilViscosity({ ...at, grade: 3 })).toThrow('at least 2 mm2/s');
    expect(() => oilViscosity({ ...at, grade: 46, viscosityIndex: 1e9 })).toThrow(CalcInputError);
    expect(() => oilViscosity({ ...at, kinematicAt40M2PerS: 5e-6, kinematicAt100M2PerS: 6e-6 })).toThrow(
      'thinner at 100',
    );
    expect(() => oilViscosity({ ...at, kinematicAt40M2PerS: 5e-6, kinematicAt100M2PerS: 1e-7 })).toThrow('above 0.3');
    expect(() => oilViscosity(at)).toThrow('a grade, or both');
    expect(
      oilViscosity({ ...at, kinematicAt40M2PerS: 5e-6, kinematicAt100M2PerS: 1.8e-6, temperatureK: 373.15 }).notes,
    ).toHaveLength(1);
    // The root lies where the index reaches the value for the first time.
    const { kinematicAt40M2PerS, kinematicAt100M2PerS } = oilViscosity({ ...at, grade: 46 });
    const { result } = calculate('viscosity-index', {
      kinematicAt40: { value: kinematicAt40M2PerS, unit: 'm2/s' },
      kinematicAt100: { value: kinematicAt100M2PerS, unit: 'm2/s' },
    });
    expect(result?.viscosityIndex).toBeCloseTo(95, 6);
  });

  test('an index that lies in the jump between two pieces gives the border', () => {
    const borders = [3.8, 4.4, 5, 6.4, 7, 7.7, 9, 12, 15, 18, 22].flatMap((y) =>
      [10, 15, 22, 32, 46, 68, 100, 150, 220].flatMap((grade) => {
        const [before, after] = [toViscosityIndex(grade, y * (1 - 1e-12)), toViscosityIndex(grade, y)];
        return after - before > 0.02 && before > 0 && before < 400
          ? [{ y, grade, viscosityIndex: (before + after) / 2 }]
          : [];
      }),
    );
    expect(borders.length).toBeGreaterThan(3);
    for (const { y, grade, viscosityIndex } of borders) {
      const { kinematicAt100M2PerS } = oilViscosity({ grade, viscosityIndex, temperatureK: 313.15 });
      // The smallest that reaches it: the border, or a root before it.
      expect(kinematicAt100M2PerS * 1e6).toBeLessThanOrEqual(y * (1 + 1e-12));
    }
    const exact = borders.filter(
      ({ y, grade, viscosityIndex }) =>
        oilViscosity({ grade, viscosityIndex, temperatureK: 313.15 }).kinematicAt100M2PerS === y * 1e-6,
    );
    expect(exact.length).toBeGreaterThan(0);
  });

  test('thin and thick tubes, no window width, no leak, no speed', () => {
    const tube = {
      outerDiameterM: 0.012,
      wallM: 0.001,
      allowableStressPa: 1e8,
      method: 'thin' as const,
      wallTolerance: 0,
    };
    expect([tubeRating(tube).notes, tubeRating({ ...tube, wallM: 0.002 }).notes.length]).toEqual([[], 1]);
    const exact = switchWindow({
      requiredPa: 1.4e7,
      settingPa: 1.61e7,
      settingTolerancePa: 1e5,
      switchAccuracyPa: 3e5,
      deadbandPa: 6e5,
      marginPa: 0,
      gaugeErrorPa: 4e5,
    });
    expect(exact).toMatchObject({ feasible: true, slackPa: 0 });
    const leak = { volumeM3: 1e-3, bulkModulusPa: 1e9, pressureStartPa: 1e7, pressureEndPa: 1e7, durationS: 60 };
    expect(leakDown({ ...leak, floorPressurePa: 9e6 }).timeToFloorS).toBeNull();
    expect(leakDown({ ...leak, floorPressurePa: 1.1e7 }).timeToFloorS).toBe(0);
    expect(leakDown(leak)).not.toHaveProperty('timeToFloorS');
    const mill = {
      kc11Pa: 1.8e9,
      mc: 0.2,
      cutterDiameterM: 0.05,
      teeth: 4,
      feedPerToothM: 1e-4,
      axialDepthM: 3e-3,
      leadAngleRad: 1.5,
      wear: 1,
    };
    expect(() => millingForce({ ...mill, radialWidthM: 0.03, engagement: 'up' })).toThrow('a speed');
    expect(() => millingForce({ ...mill, speedHz: 10 })).toThrow('a radial width with its engagement');
    const full = millingForce({ ...mill, speedHz: 10, radialWidthM: 0.05, engagement: 'centred' });
    expect(full.exitAngleRad - full.entryAngleRad).toBeCloseTo(Math.PI, 9);
  });
});

describe('the boundary', () => {
  test('what was got is shown, cut short', () => {
    expect([toGot(undefined), toGot(Number.NaN), toGot(-Infinity), toGot(5n), toGot(true), toGot(null)]).toEqual([
      null,
      'NaN',
      '-Infinity',
      '5',
      true,
      null,
    ]);
    expect(String(toGot('x'.repeat(300)))).toHaveLength(201);
    expect(String(toGot(Array.from({ length: 1000 }, () => 1)))).toHaveLength(401);
    expect(toGot({ value: 1 })).toEqual({ value: 1 });
  });

  test('like figures: one unit for all, temperatures as points and differences', () => {
    const stack = (nominal: unknown, halfWidth: unknown, upper: unknown) =>
      calculate('tolerance-stack', { terms: [{ nominal, halfWidth }], limit: { upper } });
    const cel = (value: number) => ({ value, unit: 'Cel' });
    expect(stack(cel(20), { value: 2, unit: 'K' }, cel(23)).result).toMatchObject({
      nominal: { value: 20, unit: 'Cel' },
      worstCase: { value: 2, unit: 'K' },
      probability: 1,
    });
    expect(stack(cel(20), cel(2), cel(23)).problem).toMatchObject({
      field: 'terms[0].halfWidth',
      code: 'temperature-point',
    });
    expect(stack({ value: 1, unit: 'bar' }, { value: 1, unit: 'mm' }, { value: 1, unit: 'bar' }).problem).toMatchObject(
      { field: 'terms[0].halfWidth', code: 'wrong-kind' },
    );
    expect(stack({ value: 1, unit: 'bar' }, 1, { value: 1, unit: 'bar' }).problem).toMatchObject({
      field: 'terms[0].halfWidth',
      code: 'wrong-kind',
    });
    expect(stack(1, { value: 1, unit: 'bar' }, 2).problem).toMatchObject({
      field: 'terms[0].halfWidth',
      code: 'wrong-kind',
    });
    expect(stack(1, 2e12, 2).problem).toMatchObject({ code: 'absurd' });
    expect(
      stack({ value: 1, unit: 'bar' }, { value: 3e4, unit: 'bar' }, { value: 1, unit: 'bar' }).problem,
    ).toMatchObject({ code: 'absurd' });
    expect(
      stack({ value: 1e300, unit: 'kg' }, { value: 1e306, unit: 't' }, { value: 1, unit: 'kg' }).problem,
    ).toMatchObject({ code: 'absurd' });
    expect([toDifferenceUnit('[degF]'), toDifferenceUnit('Cel'), toDifferenceUnit('bar')]).toEqual([
      '[degR]',
      'K',
      'bar',
    ]);
    const drift = (time: (n: number) => unknown, value: (n: number) => unknown) =>
      calculate('drift-crossing', {
        series: [1, 2, 3, 4].map((n) => ({ time: time(n), value: value(n) })),
        threshold: value(9),
      }).result?.slope;
    expect(
      drift(
        (n) => ({ value: n, unit: 'd' }),
        (n) => n,
      ),
    ).toEqual({ value: 1, unit: '1/d' });
    expect(
      drift(
        (n) => n,
        (n) => cel(n),
      ),
    ).toEqual({ value: 1, unit: 'K' });
    expect(
      drift(
        (n) => ({ value: n, unit: 'h' }),
        (n) => ({ value: n, unit: 'bar' }),
      ),
    ).toMatchObject({ unit: 'bar/d' });
  });

  test('life lists: plain or one quantity, never both; empty lists say nothing', () => {
    const life = (failures: unknown, suspensions?: unknown) =>
      calculate('weibull-life', { failures, ...(suspensions === undefined ? {} : { suspensions }) });
    const hours = (value: unknown) => ({ value, unit: 'h' });
    expect(life(hours([100, 300]), []).result?.scale).toMatchObject({ unit: 'h' });
    expect(life([100, 300], hours([5])).problem).toMatchObject({ field: 'suspensions', code: 'wrong-kind' });
    expect(life(hours(5)).problem).toMatchObject({ code: 'wrong-type' });
    expect(life([1]).problem).toMatchObject({ code: 'wrong-length' });
    expect(life(Array.from({ length: 10_001 }, (_, i) => i + 1)).problem).toMatchObject({ code: 'too-many' });
    expect(life([1, 'x']).problem).toMatchObject({ code: 'not-a-number' });
    expect(life({ value: [1, 2], unit: 'bar' }).problem).toMatchObject({ code: 'wrong-kind' });
  });

  test('lists too long, vectors too short, alternatives', () => {
    const spans = { value: Array.from({ length: 10_001 }, () => 1), unit: 'bar' };
    const gauge = { working: { value: 1, unit: 'bar' }, highest: { value: 1, unit: 'bar' } };
    expect(calculate('gauge-choice', { ...gauge, spans }).problem).toMatchObject({ field: 'spans', code: 'too-many' });
    expect(calculate('gauge-choice', { ...gauge, spans: { value: [], unit: 'bar' } }).problem).toMatchObject({
      code: 'wrong-length',
    });
    const conductor = { length: { value: 1, unit: 'm' } };
    expect(calculate('conductor-resistance', conductor).problem).toMatchObject({ field: 'gauge', code: 'missing' });
    expect(
      calculate('conductor-resistance', { ...conductor, gauge: 18, crossSection: { value: 1, unit: 'mm2' } }).problem,
    ).toMatchObject({ fields: ['gauge', 'crossSection'], code: 'alternatives' });
    const kc = { kc11: { value: 1800, unit: 'N/mm2' }, mc: 0.2, chipThickness: { value: 0.1, unit: 'mm' } };
    expect(calculate('specific-cutting-force', { ...kc, rakeAngle: { value: 6, unit: 'deg' } }).problem).toMatchObject({
      field: 'referenceRake',
      code: 'missing',
    });
    expect(calculate('conductor-resistance', { ...conductor, gauge: 1e6 }).problem).toMatchObject({
      code: 'no-result',
    });
    expect(
      calculate('dc-line-drop', {
        supplyVoltage: { value: 24, unit: 'V' },
        load: { value: 1, unit: 'm' },
        gauge: 18,
        ...conductor,
      }).problem,
    ).toMatchObject({ field: 'load', code: 'wrong-kind' });
    expect(
      calculate('dc-line-drop', {
        supplyVoltage: { value: 24, unit: 'V' },
        load: { value: 50, unit: 'A' },
        gauge: 24,
        length: { value: 100, unit: 'm' },
      }).result?.notes,
    ).toMatchObject([{ code: 'drop-above-supply' }]);
    expect(findCalculation('nothing')).toBeNull();
  });

  test('directions, words, counts and lists within their bounds', () => {
    const at = { value: [0, 0, 0], unit: 'm' };
    const holding = (normal: unknown, more: object = {}) =>
      calculate('holding-force', {
        locators: [{ point: at, normal, friction: 0.1 }],
        loads: [{ force: { value: [0, 0, -1], unit: 'N' }, point: at }],
        clamps: [],
        safetyFactor: 1,
        ...more,
      }).problem;
    expect(holding([0, 0])).toMatchObject({ field: 'locators[0].normal', code: 'wrong-length' });
    expect(holding([0, 0, 0])).toMatchObject({ field: 'locators[0].normal', code: 'zero' });
    expect(holding([0, 0, Number.NaN])).toMatchObject({ field: 'locators[0].normal', code: 'not-a-number' });
    expect(holding([0, 0, 1], { coneFacets: 3 })).toMatchObject({ field: 'coneFacets', code: 'out-of-range' });
    expect(holding([0, 0, 1], { coneFacets: 999 })).toMatchObject({ field: 'coneFacets', code: 'out-of-range' });
    expect(holding([0, 0, 1], { centreOfMass: { value: [1, 2], unit: 'm' } })).toMatchObject({
      field: 'centreOfMass',
      code: 'wrong-length',
    });
    expect(holding([0, 0, 1], { loads: Array.from({ length: 2001 }, () => ({})) })).toMatchObject({
      field: 'loads',
      code: 'too-many',
    });
    expect(calculate('interlock-proof', { faults: 'none' }).problems).toContainEqual(
      expect.objectContaining({ field: 'faults', code: 'wrong-type' }),
    );
    expect(
      calculate('interlock-proof', { faults: Array.from({ length: 10_001 }, () => 'none') }).problems,
    ).toContainEqual(expect.objectContaining({ field: 'faults', code: 'too-many' }));
    const rise = {
      temperatureRise: { value: 10, unit: 'Cel' },
      expansionCoefficient: { value: 7e-4, unit: '1/K' },
      bulkModulus: { value: 1.6, unit: 'GPa' },
    };
    expect(calculate('trapped-oil-thermal-rise', rise).problem).toMatchObject({
      field: 'temperatureRise',
      code: 'temperature-point',
      needs: 'a difference, in K',
    });
    expect(
      calculate('oil-density', {
        densityAt15: { value: 1e308, unit: 'g/mm3' },
        expansionCoefficient: { value: 7e-4, unit: '1/K' },
        temperature: { value: 20, unit: 'Cel' },
      }).problem,
    ).toMatchObject({ field: 'densityAt15', code: 'absurd' });
  });

  test('equal in other units is equal: a rod of one inch in a bore of 25.4 mm', () => {
    const { problem } = calculate('cylinder-force', {
      bore: { value: 25.4, unit: 'mm' },
      rod: { value: 1, unit: '[in_i]' },
      pressure: { value: 1, unit: 'bar' },
    });
    expect(problem).toMatchObject({ field: 'rod', fields: ['rod', 'bore'], code: 'inconsistent' });
    const chain = {
      setting: { value: 2330, unit: '[psi]' },
      settingTolerance: { value: 58, unit: '[psi]' },
      highest: { value: 2388, unit: '[psi]' },
      parts: [{ name: 'a', rating: { value: 2388, unit: '[psi]' } }],
    };
    expect(calculate('pressure-chain', chain).result).toMatchObject({ adequate: true });
    expect(() => requireFinite({ list: [{ x: Number.NaN }] })).toThrow('list[0].x');
  });

  test('an unforeseen error is not dressed up as bad input', () => {
    const bad = {
      locators: [{ point: { value: [0, 0, 0], unit: 'm' }, normal: [0, 0, 1], friction: 0.1 }],
      clamps: [],
      loads: [{ force: { value: [0, 0, -1], unit: 'N' }, point: { value: [0, 0, 0], unit: 'm' } }],
      safetyFactor: 1,
    };
    const broken = { withProgram: () => { throw new TypeError('broken solver'); } }; // prettier-ignore
    expect(() => calculate('holding-force', bad, { solver: broken })).toThrow('broken solver');
  });
});
