// Compares one check row with what a calculation answered; used by the tests and by npm run check:reference.
import { convert } from '@repo/quantity';

/**
 * How far a result may be from what a row expects.
 * @typedef {{ type: 'rel' | 'abs' | 'exact', value: number }} Tolerance
 */
/**
 * One check: inputs, and what must come of them, with where that was taken from.
 * @typedef {object} CheckRow
 * @property {string} id
 * @property {string} calculation
 * @property {Record<string, unknown>} inputs
 * @property {Record<string, unknown>} [expected]
 * @property {{ field: string | string[] }} [problem]
 * @property {Tolerance & { outputs?: Record<string, Tolerance> }} tolerance
 * @property {string} kind
 * @property {string} source
 */
/** @typedef {{ id: string, topic: string, statement: string, values: Record<string, unknown>, kind: string, source: string }} CheckFact */
/** @typedef {{ rows: CheckRow[], facts: CheckFact[] }} CheckFile */
/** @typedef {{ failures: string[], largestError: number }} Comparison */
/** @typedef {{ result?: Record<string, unknown> | undefined, problem?: { field: string, fields?: readonly string[] } | undefined }} Answer */
/** @typedef {{ value: unknown, unit: string }} AnyQuantity */

/**
 * @param {unknown} value
 * @returns {value is AnyQuantity}
 */
const isQuantity = (value) => typeof value === 'object' && value !== null && !Array.isArray(value) && 'unit' in value;

/**
 * @param {number} expected
 * @param {unknown} got
 * @param {Tolerance} tolerance
 * @param {string} at
 * @param {Comparison} comparison which this adds to
 */
function compareNumber(expected, got, tolerance, at, comparison) {
  if (typeof got !== 'number') {
    comparison.failures.push(`${at}: expected ${expected}, got ${JSON.stringify(got)}`);
    return;
  }
  const difference = Math.abs(got - expected);
  const relative = difference / Math.max(Math.abs(expected), Number.MIN_VALUE);
  if (tolerance.type !== 'abs')
    comparison.largestError = Math.max(comparison.largestError, difference === 0 ? 0 : relative);
  else if (expected !== 0) comparison.largestError = Math.max(comparison.largestError, relative);
  const limit = { rel: tolerance.value * Math.abs(expected), abs: tolerance.value, exact: 0 }[tolerance.type];
  if (!(difference <= limit))
    comparison.failures.push(`${at}: expected ${expected}, got ${got} (${tolerance.type} ${tolerance.value})`);
}

/**
 * @param {unknown} expected
 * @param {unknown} got
 * @param {Tolerance} tolerance
 * @param {string} at
 * @param {Comparison} comparison which this adds to
 */
function compare(expected, got, tolerance, at, comparison) {
  if (isQuantity(expected)) {
    if (!isQuantity(got)) {
      comparison.failures.push(`${at}: expected a quantity, got ${JSON.stringify(got)}`);
      return;
    }
    /** @param {unknown} value */
    const toUnit = (value) => (typeof value === 'number' ? convert(value, got.unit, expected.unit) : value);
    const converted = Array.isArray(got.value) ? got.value.map(toUnit) : toUnit(got.value);
    compare(expected.value, converted, tolerance, at, comparison);
  } else if (Array.isArray(expected)) {
    if (!Array.isArray(got) || got.length !== expected.length) {
      comparison.failures.push(`${at}: expected ${expected.length} values, got ${JSON.stringify(got)}`);
      return;
    }
    expected.forEach((item, index) => compare(item, got[index], tolerance, `${at}[${index}]`, comparison));
  } else if (typeof expected === 'number') compareNumber(expected, got, tolerance, at, comparison);
  else if (typeof expected === 'object' && expected !== null) {
    const members = new Map(Object.entries(got ?? {}));
    for (const [key, value] of Object.entries(expected))
      compare(value, members.get(key), tolerance, `${at}.${key}`, comparison);
  } else if (expected !== got) comparison.failures.push(`${at}: expected ${expected}, got ${JSON.stringify(got)}`);
}

/**
 * What differs, and the largest relative error of the outputs compared.
 * @param {CheckRow} row
 * @param {Answer} answer
 * @returns {Comparison}
 */
export function checkRow(row, answer) {
  /** @type {Comparison} */
  const comparison = { failures: [], largestError: 0 };
  if (row.problem) {
    const wanted = [row.problem.field].flat();
    const named = answer.problem ? [answer.problem.field, ...(answer.problem.fields ?? [])] : [];
    if (!wanted.some((field) => named.includes(field))) {
      comparison.failures.push(
        `expected a problem naming ${wanted.join(' or ')}, got ${JSON.stringify(answer).slice(0, 200)}`,
      );
    }
    return comparison;
  }
  if (answer.problem) {
    comparison.failures.push(`expected a result, got ${JSON.stringify(answer.problem)}`);
    return comparison;
  }
  for (const [name, expected] of Object.entries(row.expected ?? {})) {
    compare(expected, answer.result?.[name], row.tolerance.outputs?.[name] ?? row.tolerance, name, comparison);
  }
  return comparison;
}
