// Compares one check row with what a calculation answered; used by the tests and by npm run check:reference.
import { convert } from '@repo/quantity';

const isQuantity = (value) => typeof value === 'object' && value !== null && !Array.isArray(value) && 'unit' in value;

function compareNumber(expected, got, tolerance, at, found) {
  if (typeof got !== 'number') {
    found.failures.push(`${at}: expected ${expected}, got ${JSON.stringify(got)}`);
    return;
  }
  const difference = Math.abs(got - expected);
  const relative = difference / Math.max(Math.abs(expected), Number.MIN_VALUE);
  if (tolerance.type !== 'abs') found.largestError = Math.max(found.largestError, difference === 0 ? 0 : relative);
  else if (expected !== 0) found.largestError = Math.max(found.largestError, relative);
  const limit = { rel: tolerance.value * Math.abs(expected), abs: tolerance.value, exact: 0 }[tolerance.type];
  if (!(difference <= limit))
    found.failures.push(`${at}: expected ${expected}, got ${got} (${tolerance.type} ${tolerance.value})`);
}

function compare(expected, got, tolerance, at, found) {
  if (isQuantity(expected)) {
    if (!isQuantity(got)) {
      found.failures.push(`${at}: expected a quantity, got ${JSON.stringify(got)}`);
      return;
    }
    const toUnit = (value) => convert(value, got.unit, expected.unit);
    const own = Array.isArray(got.value)
      ? got.value.map((item) => (item === null ? null : toUnit(item)))
      : toUnit(got.value);
    compare(expected.value, own, tolerance, at, found);
  } else if (Array.isArray(expected)) {
    if (!Array.isArray(got) || got.length !== expected.length) {
      found.failures.push(`${at}: expected ${expected.length} values, got ${JSON.stringify(got)}`);
      return;
    }
    expected.forEach((item, index) => compare(item, got[index], tolerance, `${at}[${index}]`, found));
  } else if (typeof expected === 'number') compareNumber(expected, got, tolerance, at, found);
  else if (typeof expected === 'object' && expected !== null) {
    for (const [key, value] of Object.entries(expected)) compare(value, got?.[key], tolerance, `${at}.${key}`, found);
  } else if (expected !== got) found.failures.push(`${at}: expected ${expected}, got ${JSON.stringify(got)}`);
}

/** @returns what differs, and the largest relative error of the outputs compared */
export function checkRow(row, answer) {
  const found = { failures: [], largestError: 0 };
  if (row.problem) {
    const wanted = [row.problem.field].flat();
    const named = answer.problem ? [answer.problem.field, ...(answer.problem.fields ?? [])] : [];
    if (!wanted.some((field) => named.includes(field))) {
      found.failures.push(
        `expected a problem naming ${wanted.join(' or ')}, got ${JSON.stringify(answer).slice(0, 200)}`,
      );
    }
    return found;
  }
  if (answer.problem) {
    found.failures.push(`expected a result, got ${JSON.stringify(answer.problem)}`);
    return found;
  }
  for (const [name, expected] of Object.entries(row.expected)) {
    compare(expected, answer.result[name], row.tolerance.outputs?.[name] ?? row.tolerance, name, found);
  }
  return found;
}
