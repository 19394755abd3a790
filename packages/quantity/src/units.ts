import { getKindInfo, type QuantityKind } from './kinds.js';
import { findUnit, type ParsedUnit } from './ucum-parser.js';

/** A value with its unit (UCUM), and how many significant digits it was stated with, when that is known. */
export interface Quantity {
  value: number;
  unit: string;
  digits?: number;
}

/** A list of like quantities, or a vector. */
export interface QuantityArray {
  value: readonly number[];
  unit: string;
}

export type UnitErrorCode = 'unknown-unit' | 'wrong-kind' | 'temperature-point';

/** `temperature-point`: a scale such as `Cel` or `[degF]` where a temperature difference is meant. */
export class UnitError extends Error {
  constructor(
    readonly code: UnitErrorCode,
    readonly unit: string,
    readonly needs: string,
  ) {
    super(`${code}: ${unit}; needs ${needs}`);
    this.name = 'UnitError';
  }
}

function hasSameDimension(a: ParsedUnit, b: ParsedUnit): boolean {
  return a.dimension.every((exponent, index) => exponent === b.dimension[index]);
}

/** True when both codes are known and measure the same thing, so that one converts to the other. */
export function isCommensurable(unit: string, other: string): boolean {
  const a = findUnit(unit);
  const b = findUnit(other);
  return a !== null && b !== null && hasSameDimension(a, b);
}

/** Why a unit may not be used for a kind; null when it may. */
export function checkUnit(unit: string, kind: QuantityKind): UnitErrorCode | null {
  const parsed = findUnit(unit);
  if (!parsed) return 'unknown-unit';
  const si = findUnit(getKindInfo(kind).siUnit) as ParsedUnit;
  if (!hasSameDimension(parsed, si)) return 'wrong-kind';
  return parsed.offset !== null && kind !== 'temperature' ? 'temperature-point' : null;
}

function getUnitFor(unit: string, kind: QuantityKind): ParsedUnit {
  const code = checkUnit(unit, kind);
  if (code) throw new UnitError(code, unit, getKindInfo(kind).siUnit);
  return findUnit(unit) as ParsedUnit;
}

function scaleUp(value: number, unit: ParsedUnit): number {
  const scaled = ((value + (unit.offset ?? 0)) * unit.num) / unit.den;
  return unit.irrational === 1 ? scaled : scaled * unit.irrational;
}

/** Without a check of the kind: for callers that hold the parsed unit. */
export function scaleDown(si: number, unit: ParsedUnit): number {
  const scaled = unit.irrational === 1 ? si : si / unit.irrational;
  const offset = unit.offset ?? 0;
  const value = (scaled * unit.den) / unit.num - offset;
  // Five roundings, each half an epsilon of the offset at most, may stand between zero degrees and zero.
  return Math.abs(value) <= 4 * Number.EPSILON * Math.abs(offset) ? 0 : value;
}

/**
 * The value in the coherent SI unit of its kind. Temperatures become kelvin above absolute zero.
 * @throws UnitError when the unit is unknown, of another kind, or a temperature scale where a difference is meant.
 */
export function toSi(value: number, unit: string, kind: QuantityKind): number {
  return scaleUp(value, getUnitFor(unit, kind));
}

/**
 * An SI value expressed in `unit`; the inverse of `toSi`.
 * @throws UnitError as `toSi` does.
 */
export function fromSi(si: number, unit: string, kind: QuantityKind): number {
  return scaleDown(si, getUnitFor(unit, kind));
}

/**
 * Converts between commensurable units of any dimension; point scales convert as points.
 * @throws UnitError when a unit is unknown or the two do not measure the same thing.
 */
export function convert(value: number, from: string, to: string): number {
  const a = findUnit(from);
  const b = findUnit(to);
  if (!a) throw new UnitError('unknown-unit', from, to);
  if (!b) throw new UnitError('unknown-unit', to, from);
  if (!hasSameDimension(a, b)) throw new UnitError('wrong-kind', from, to);
  return scaleDown(scaleUp(value, a), b);
}
