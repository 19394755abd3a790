import { readFileSync } from 'node:fs';
import path from 'node:path';
import { checkRow } from '../scripts/check-row.mjs';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import { calculate, describeRegistry } from '../src/registry/registry.js';
import type { CheckFile } from '../scripts/check-row.mjs';

const { rows, facts } = JSON.parse(
  readFileSync(path.join(import.meta.dirname, 'data/checks.json'), 'utf8'),
) as CheckFile;
let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

test.each(rows.map((row) => [row.id, row] as const))('%s', (_id, row) => {
  expect(checkRow(row, calculate(row.calculation, row.inputs, { solver })).failures).toEqual([]);
});

test('every calculation of the registry has check rows, each with its source', () => {
  const checked = new Set(rows.map(({ calculation }) => calculation));
  expect(
    describeRegistry()
      .filter(({ id }) => !checked.has(id))
      .map(({ id }) => id),
  ).toEqual([]);
  expect(rows.every(({ source, kind }) => source.length > 0 && kind.length > 0)).toBe(true);
});

test('the comparison finds what it should', () => {
  const row = rows.find(({ id }) => id === 'cylinder-force/001');
  if (!row?.expected) throw new Error('row');
  const good = calculate(row.calculation, row.inputs);
  const changed = (value: unknown) => ({ ...row, expected: { ...row.expected, extendForce: value } });
  for (const value of [
    { value: 21991.2, unit: 'N' },
    5,
    { value: [1], unit: 'N' },
    'x',
    null,
    { value: 'x', unit: 'N' },
  ]) {
    expect(checkRow(changed(value), good).failures).toHaveLength(1);
  }
  expect(checkRow({ ...row, problem: { field: 'rod' } }, good).failures).toHaveLength(1);
  expect(checkRow(row, calculate(row.calculation, {})).failures).toHaveLength(1);
  const listed = { ...row, expected: { x: [1, 2] }, tolerance: { type: 'exact' as const, value: 0 } };
  expect(checkRow(listed, { result: { x: [1] } }).failures).toHaveLength(1);
  expect(checkRow(listed, { result: { x: [1, 3] } }).failures).toHaveLength(1);
  expect(checkRow(listed, { result: { x: [1, 2] } }).failures).toEqual([]);
});

describe('table values and rules that can be computed', () => {
  const fact = (id: string): Record<string, unknown> => {
    const found = facts.find((candidate) => candidate.id === id);
    if (!found) throw new Error(id);
    return found.values;
  };
  const run = (id: string, inputs: unknown): Record<string, unknown> => {
    const { result } = calculate(id, inputs, { solver });
    if (!result) throw new Error(id);
    return result;
  };

  test('nominal and real area ratios differ', () => {
    const { pairs } = fact('fact/cylinders/001') as { pairs: { bore: unknown; rod: unknown; ratio: number }[] };
    for (const { bore, rod, ratio } of pairs) {
      expect(run('cylinder-force', { bore, rod, pressure: { value: 1, unit: 'bar' } }).areaRatio).toBeCloseTo(ratio, 4);
    }
  });

  test('flexible conductors have at least the resistance of solid ones, and at most the standard allows', () => {
    const { rows: table } = fact('fact/conductors/001') as {
      rows: { crossSection: unknown; maximumResistance: { value: number } }[];
    };
    for (const { crossSection, maximumResistance } of table) {
      const { resistance } = run('conductor-resistance', { crossSection, length: { value: 1, unit: 'km' } }) as {
        resistance: { value: number };
      };
      expect(resistance.value).toBeLessThan(maximumResistance.value);
      expect(resistance.value).toBeGreaterThan(0.85 * maximumResistance.value);
    }
  });

  test('oil grades lie within ten per cent at 40 °C', () => {
    const { rows: table } = fact('fact/oil/001') as {
      rows: { grade: number; min: { value: number }; max: { value: number } }[];
    };
    for (const { grade, min, max } of table) {
      const { kinematicViscosity } = run('oil-viscosity', { grade, temperature: { value: 40, unit: 'Cel' } }) as {
        kinematicViscosity: { value: number };
      };
      expect(kinematicViscosity.value).toBeCloseTo((min.value + max.value) / 2, 9);
    }
  });

  test('the limits of scale number 18', () => {
    const { scale, moreThan, upTo } = fact('fact/oil/002') as {
      scale: number;
      moreThan: { value: number };
      upTo: { value: number };
    };
    const codeOf = (value: number): unknown =>
      (
        run('particle-code', {
          above4: { value, unit: '1/mL' },
          above6: { value: 0, unit: '1/mL' },
          above14: { value: 0, unit: '1/mL' },
        }).codes as number[]
      )[0];
    expect([
      codeOf(moreThan.value),
      codeOf(moreThan.value * 1.0001),
      codeOf(upTo.value),
      codeOf(upTo.value * 1.0001),
    ]).toEqual([scale - 1, scale, scale, scale + 1]);
  });

  test('power constants in both systems agree within the rounding of their table', () => {
    const { rows: table } = fact('fact/cutting-power/001') as { rows: { inch: unknown; metric: { value: number } }[] };
    for (const { inch, metric } of table) {
      const { cuttingPower } = run('removal-power', {
        specificPower: inch,
        removalRate: { value: 1, unit: 'cm3/s' },
      }) as {
        cuttingPower: { value: number };
      };
      expect(Math.abs(cuttingPower.value - metric.value)).toBeLessThan(0.006);
    }
  });

  test('precharge at most 0.9 of the low pressure: a note above', () => {
    const { pressureLow, prechargeHighest } = fact('fact/accumulators/001') as {
      pressureLow: { value: number };
      prechargeHighest: { value: number };
    };
    const codes = (value: number): unknown[] =>
      (
        run('accumulator-volume', {
          oilVolume: { value: 1, unit: 'L' },
          prechargePressure: { value, unit: 'bar' },
          pressureLow,
          pressureHigh: { value: 200, unit: 'bar' },
        }).notes as { code: string }[]
      ).map(({ code }) => code);
    expect(codes(prechargeHighest.value)).toEqual([]);
    expect(codes(prechargeHighest.value + 1)).toEqual(['precharge-near-low-pressure']);
  });
});
