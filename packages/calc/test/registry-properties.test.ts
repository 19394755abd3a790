import { readFileSync } from 'node:fs';
import path from 'node:path';
import { convert } from '@repo/quantity';
import { loadSolver } from '../src/holding/load-solver.js';
import type { LinearProgramSolver } from '../src/holding/linear-program.js';
import type { FieldDescription } from '../src/registry/input-fields.js';
import { calculate, describeRegistry } from '../src/registry/registry.js';
import type { CheckFile, CheckRow } from '../scripts/check-row.mjs';

type Json = Record<string, unknown>;
interface Spot {
  path: string;
  value: unknown;
  field: FieldDescription;
  put: (value: unknown) => Json;
}

const { rows } = JSON.parse(readFileSync(path.join(import.meta.dirname, 'data/checks.json'), 'utf8')) as CheckFile;
const good = rows.filter((row) => row.expected);
const samples = describeRegistry().map(({ id, inputs }) => {
  const ownRows = good.filter((row) => row.calculation === id);
  // First, middle and last: the rows of a calculation resemble each other.
  const chosen = [...new Set([ownRows[0], ownRows[Math.floor(ownRows.length / 2)], ownRows[ownRows.length - 1]])];
  return { id, inputs, rows: chosen.filter((row) => row !== undefined) };
});
let solver: LinearProgramSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

function isRecord(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Every input of a row, nested ones too, with a way to put another value in its place. */
function listSpots(
  values: Json,
  fields: Readonly<Record<string, FieldDescription>>,
  at: string,
  put: (values: Json) => Json,
): Spot[] {
  return Object.entries(values).flatMap(([name, value]) => {
    const field = fields[name];
    if (!field) throw new Error(`${at}${name}`);
    const here = `${at}${name}`;
    const replace = (next: unknown): Json => put({ ...values, [name]: next });
    const spot: Spot = { path: here, value, field, put: replace };
    if (field.type === 'object' && isRecord(value))
      return [spot, ...listSpots(value, field.fields ?? {}, `${here}.`, replace)];
    if (field.type === 'list' && Array.isArray(value)) {
      return [
        spot,
        ...value.flatMap((item: Json, index) =>
          listSpots(item, field.fields ?? {}, `${here}[${index}].`, (next) =>
            replace(value.map((other: Json, i) => (i === index ? next : other))),
          ),
        ),
      ];
    }
    return [spot];
  });
}

const spotsOf = (row: CheckRow, fields: Readonly<Record<string, FieldDescription>>): Spot[] =>
  listSpots(row.inputs, fields, '', (values) => values);
const run = (id: string, inputs: unknown) => calculate(id, inputs, { solver });

function expectProblem(id: string, inputs: unknown, at: string, codes: readonly string[]): void {
  const { problem, problems } = run(id, inputs);
  // A list or group refused in part names the part.
  const named = [problem?.field, ...(problem?.fields ?? []), ...(problems ?? []).map(({ field }) => field)];
  expect([
    id,
    at,
    problem?.code,
    named.some((field) => field === at || field?.startsWith(`${at}.`) || field?.startsWith(`${at}[`)),
  ]).toEqual([id, at, expect.stringMatching(new RegExp(`^(${codes.join('|')})$`)), true]);
  expect(problem?.needs).toBeTruthy();
}

function isFiniteThroughout(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  return typeof value !== 'object' || value === null || Object.values(value).every(isFiniteThroughout);
}

function expectClose(a: unknown, b: unknown, where: string): void {
  if (typeof a === 'number' && typeof b === 'number') {
    expect([where, Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b)) + 1e-9]).toEqual([where, true]);
  } else if (
    isRecord(a) &&
    isRecord(b) &&
    typeof a.unit === 'string' &&
    typeof b.unit === 'string' &&
    a.unit !== b.unit
  ) {
    expectClose(a.value, convert(Number(b.value), b.unit, a.unit), where);
  } else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
    expect([where, Object.keys(a)]).toEqual([where, Object.keys(b)]);
    for (const [key, value] of Object.entries(a)) expectClose(value, (b as Json)[key], `${where}.${key}`);
  } else expect([where, a]).toEqual([where, b]);
}

describe.each(samples)('$id', ({ id, inputs, rows: ownRows }) => {
  const [first] = ownRows;
  if (!first) throw new Error(`no row for ${id}`);

  test('outputs are described, finite, and carry notes', () => {
    for (const row of ownRows) {
      const { result } = run(id, row.inputs);
      const described = Object.keys(describeRegistry().find((entry) => entry.id === id)?.outputs ?? {});
      expect(described).toEqual(expect.arrayContaining(Object.keys(result ?? {}).filter((name) => name !== 'notes')));
      expect(Array.isArray(result?.notes)).toBe(true);
      expect(isFiniteThroughout(result)).toBe(true);
    }
  });

  test('an unknown name is refused, at every level', () => {
    expectProblem(id, { ...first.inputs, spel1ing: 1 }, 'spel1ing', ['unknown-name']);
    for (const row of ownRows) {
      for (const { path: at, value, field, put } of spotsOf(row, inputs)) {
        if (field.type === 'object' && isRecord(value))
          expectProblem(id, put({ ...value, spel1ing: 1 }), `${at}.spel1ing`, ['unknown-name']);
        if (field.type === 'list' && Array.isArray(value) && value.length > 0) {
          expectProblem(
            id,
            put(value.map((item: Json, index) => (index === 0 ? { ...item, spel1ing: 1 } : item))),
            `${at}[0].spel1ing`,
            ['unknown-name'],
          );
        }
      }
    }
  });

  test('a missing input is named', () => {
    for (const name of Object.keys(inputs).filter((key) => inputs[key]?.required)) {
      const { [name]: gone, ...rest } = first.inputs;
      expect(gone).toBeDefined();
      expectProblem(id, rest, name, ['missing']);
    }
    expectProblem(id, null, '', ['not-an-object']);
    expectProblem(id, [], '', ['not-an-object']);
  });

  test('what is not a finite number is refused', () => {
    for (const row of ownRows) {
      for (const { path: at, value, field, put } of spotsOf(row, inputs)) {
        for (const wrong of [Number.NaN, Infinity, null, ...(field.type === 'text' ? [] : ['x']), {}, [null]]) {
          expectProblem(id, put(wrong), at, ['.*']);
        }
        if (isRecord(value) && field.kind) {
          for (const wrong of [Number.NaN, -Infinity, '1', null]) {
            expectProblem(id, put({ ...value, value: wrong }), at, ['not-a-number', 'wrong-type']);
          }
          expectProblem(id, put({ ...value, unit: 'nonsense' }), at, ['unknown-unit']);
          expectProblem(id, put({ ...value, unit: 'mol' }), at, ['unknown-unit']);
          expectProblem(id, put({ ...value, unit: 'kg4' }), at, ['wrong-kind']);
          expectProblem(id, put({ ...value, units: 'm' }), at, ['unknown-name']);
          expectProblem(id, put({ ...value, digits: 'x' }), at, ['not-whole']);
        }
        if (field.kind && field.type !== 'like' && isRecord(value))
          expectProblem(id, put(5), at, ['wrong-type', 'wrong-kind', '.*']);
      }
    }
  });

  test('below zero, absurdly large, above one: refused where they are', () => {
    for (const row of ownRows) {
      for (const { path: at, value, field, put } of spotsOf(row, inputs)) {
        if (field.type === 'fraction') expectProblem(id, put(1.01), at, ['above-one']);
        if (field.type === 'count') expectProblem(id, put(1.5), at, ['not-whole']);
        if (field.type === 'word') expectProblem(id, put('nonsense'), at, ['unknown-word']);
        if (['number', 'fraction', 'count'].includes(field.type)) {
          expectProblem(id, put(1.1e12), at, ['absurd', 'above-one', 'unknown-word']);
          if (!field.signed) expectProblem(id, put(-1), at, ['negative', 'unknown-word']);
          if (field.zero === false) expectProblem(id, put(0), at, ['zero', 'unknown-word']);
        }
        if (field.type === 'quantity' && isRecord(value)) {
          if (!field.signed) expectProblem(id, put({ ...value, value: -1 }), at, ['negative']);
          if (field.zero === false) expectProblem(id, put({ ...value, value: 0 }), at, ['zero', 'wrong-kind']);
          if (
            ['pressure', 'stress', 'length', 'force', 'flow', 'volume', 'time', 'temperature'].includes(
              String(field.kind),
            )
          ) {
            expectProblem(id, put({ ...value, value: 1e17 }), at, ['absurd']);
          }
        }
      }
    }
  });

  test('the same inputs in other units give the same', () => {
    for (const row of ownRows) {
      const before = run(id, row.inputs).result;
      for (const { value, field, put } of spotsOf(row, inputs)) {
        if (!isRecord(value) || typeof value.unit !== 'string' || field.kind === undefined) continue;
        const unit = value.unit;
        const [other] = (field.units ?? []).filter((candidate) => candidate !== unit);
        if (other === undefined || field.units?.includes('A')) continue;
        const toOther = (number: number): number => convert(number, unit, other);
        const values = value.value as number | number[];
        const after = run(
          id,
          put({ value: Array.isArray(values) ? values.map(toOther) : toOther(values), unit: other }),
        );
        expect(after.problem).toBeUndefined();
        const { notes: _before, contacts: _c, series: _s, ...numbers } = before ?? {};
        const { notes: _after, contacts: _d, series: _t, ...again } = after.result ?? {};
        expectClose(numbers, again, id);
      }
    }
  });

  test('any change of any number gives finite outputs or a problem', () => {
    let seed = 12345;
    const random = (): number => (seed = (seed * 48271) % 2147483647) / 2147483647;
    const scaled = (value: unknown): unknown => {
      if (typeof value === 'number')
        return Number.isInteger(value) && random() < 0.5 ? value : value * 4 ** (2 * random() - 1);
      if (Array.isArray(value)) return value.map(scaled);
      if (isRecord(value))
        return Object.fromEntries(
          Object.entries(value).map(([key, item]) => [key, key === 'digits' ? item : scaled(item)]),
        );
      return value;
    };
    let results = 0;
    const runs = id === 'clamp-sequence' || id.includes('cusum') ? 5 : 40;
    for (const row of ownRows) {
      for (let count = 0; count < runs; count += 1) {
        const { result, problem } = run(id, scaled(row.inputs));
        if (result) results += 1;
        expect(result ? isFiniteThroughout(result) : Boolean(problem?.field !== undefined && problem.needs)).toBe(true);
      }
    }
    expect(results).toBeGreaterThan(0);
  });
});

test('an unknown id is named', () => {
  expect(run('constructor', {}).problem).toMatchObject({ field: 'id', got: 'constructor', code: 'unknown-id' });
});

test('a calculation that needs the solver says so when it is missing', () => {
  const row = good.find(({ calculation }) => calculation === 'holding-force');
  expect(() => calculate('holding-force', row?.inputs)).toThrow('loadSolver');
});
