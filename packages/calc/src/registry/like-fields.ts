import { checkUnit, convert, findUnit, isCommensurable } from '@repo/quantity';
import { findAbsurdity, LARGEST_PLAIN, LONGEST_LIST } from './limits.js';
import { checkNumber, type InputField, type NumberRules } from './input-fields.js';
import type { Reading } from './problem.js';

/**
 * Figures whose kind is the caller's choice but the same throughout: all plain numbers, or all quantities that convert
 * into each other. They are read in the unit of the first (`time`: in days), which the outputs then carry.
 */
export interface LikeRules extends NumberRules {
  /** a deviation, not a point: a temperature scale is refused */
  difference?: true;
  /** only times or plain numbers */
  time?: true;
}

/** The unit of differences on a point scale. */
export function toDifferenceUnit(unit: string): string {
  if (findUnit(unit)?.offset == null) return unit;
  return unit === '[degF]' ? '[degR]' : 'K';
}

const DAYS = 'd';

function findGroupUnit(
  group: string,
  unit: string | null,
  path: string,
  raw: unknown,
  reading: Reading,
  rules: LikeRules,
): boolean {
  const known = reading.groups.get(group);
  if (!known) {
    reading.groups.set(group, { unit: rules.time && unit !== null ? DAYS : unit, path });
    return true;
  }
  const fits = unit === null || known.unit === null ? unit === known.unit : isCommensurable(unit, known.unit);
  if (!fits) {
    const needs =
      known.unit === null ? `a plain number, like ${known.path}` : `a quantity like ${known.path} (${known.unit})`;
    reading.refuse(path, raw, 'wrong-kind', needs);
  }
  return fits;
}

function readLikeNumber(
  group: string,
  raw: unknown,
  value: unknown,
  unit: string | null,
  path: string,
  reading: Reading,
  rules: LikeRules,
): number | undefined {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    return reading.refuse(path, raw, 'not-a-number', 'a finite number, plain or as { value, unit }');
  }
  if (unit === null) {
    if (Math.abs(value) > LARGEST_PLAIN) return reading.refuse(path, raw, 'absurd', 'at most 1e12');
    return checkNumber(raw, value, path, reading, rules);
  }
  const absurd = checkLikeSize(value, unit);
  if (absurd !== null) return reading.refuse(path, raw, 'absurd', absurd);
  // Whoever reads a figure with a unit has first found that the group has one.
  const groupUnit = String(reading.groups.get(group)?.unit);
  const ownValue = rules.difference
    ? convert(value, unit, toDifferenceUnit(groupUnit))
    : convert(value, unit, groupUnit);
  if (!Number.isFinite(ownValue)) return reading.refuse(path, raw, 'absurd', 'a size that can be computed with');
  return checkNumber(raw, ownValue, path, reading, rules);
}

function checkLikeSize(value: number, unit: string): string | null {
  for (const [kind, si] of [
    ['pressure', 'Pa'],
    ['length', 'm'],
    ['force', 'N'],
    ['flow', 'm3/s'],
    ['volume', 'm3'],
    ['time', 's'],
  ] as const) {
    if (isCommensurable(unit, si)) return findAbsurdity(convert(value, unit, si), kind);
  }
  return null;
}

function readParts(
  raw: unknown,
  path: string,
  reading: Reading,
  rules: LikeRules,
): { value: unknown; unit: string | null } | undefined {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) return { value: raw, unit: null };
  const { value, unit, digits } = raw as { value?: unknown; unit?: unknown; digits?: unknown };
  if (Object.keys(raw).some((key) => !['value', 'unit', 'digits'].includes(key))) {
    return reading.refuse(path, raw, 'unknown-name', 'a quantity { value, unit } and nothing else');
  }
  if (digits !== undefined && !Number.isInteger(digits)) {
    return reading.refuse(path, raw, 'not-whole', 'a whole number of digits');
  }
  if (typeof unit !== 'string' || !findUnit(unit))
    return reading.refuse(path, raw, 'unknown-unit', 'a known unit (UCUM)');
  if (rules.time && checkUnit(unit, 'time'))
    return reading.refuse(path, raw, 'wrong-kind', 'a time, or a plain number');
  if (rules.difference && findUnit(unit)?.offset !== null) {
    return reading.refuse(path, raw, 'temperature-point', 'a difference, such as K');
  }
  return { value, unit };
}

/** One figure of a group. */
export function like(group: string, rules: LikeRules): InputField<number, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const parts = readParts(raw, path, reading, rules);
      if (!parts || !findGroupUnit(group, parts.unit, path, raw, reading, rules)) return undefined;
      return readLikeNumber(group, raw, parts.value, parts.unit, path, reading, rules);
    },
    describe: () => ({
      type: 'like',
      ...(rules.time ? { kind: 'time' as const, units: ['h', 'd', 'a'] } : {}),
      signed: rules.signed ?? false,
      zero: rules.positive !== true,
    }),
  };
}

/** A list of figures of a group: plain numbers [..], or one quantity { value: [..], unit }. */
export function likeList(group: string, rules: LikeRules & { time: true; least?: number }): InputField<number[], ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const parts = readParts(raw, path, reading, rules);
      if (!parts) return undefined;
      if (!Array.isArray(parts.value)) {
        return reading.refuse(path, raw, 'wrong-type', 'a list of numbers, plain or as { value: [..], unit }');
      }
      if (parts.value.length < (rules.least ?? 0)) {
        return reading.refuse(path, raw, 'wrong-length', `at least ${rules.least}`);
      }
      if (parts.value.length > LONGEST_LIST) return reading.refuse(path, null, 'too-many', `at most ${LONGEST_LIST}`);
      // An empty list says nothing about the group's unit.
      if (parts.value.length === 0) return [];
      if (!findGroupUnit(group, parts.unit, path, raw, reading, rules)) return undefined;
      const values = parts.value.map((value: unknown) =>
        readLikeNumber(group, raw, value, parts.unit, path, reading, rules),
      );
      return values.every((value) => value !== undefined) ? values : undefined;
    },
    describe: () => ({
      type: 'number-list',
      kind: 'time',
      units: ['h', 'd', 'a'],
      signed: rules.signed ?? false,
      zero: rules.positive !== true,
      least: rules.least ?? 0,
      most: LONGEST_LIST,
    }),
  };
}
