import { toUnitSymbol } from './kinds.js';
import { findUnit } from './ucum-parser.js';
import { scaleDown, UnitError } from './units.js';

export interface FormatQuantityOptions {
  /** significant digits to show, 1 to 15; left out (and no accuracy given): 4 */
  digits?: number;
  /** how far the value may be off, in SI: the last digit shown is of this size (a difference for temperatures) */
  accuracySi?: number;
  /** the decimal sign; left out: a point */
  decimalSign?: '.' | ',';
}

export interface FormattedQuantity {
  /** digits only (and sign): no grouping, so that numbers stand under each other and can be copied */
  text: string;
  unitSymbol: string;
}

/** Places after the decimal point; negative: rounded to tens, hundreds … */
function toText(value: number, places: number): string {
  const bounded = Math.max(-20, Math.min(20, places));
  if (bounded >= 0) return value.toFixed(bounded);
  const step = 10 ** -bounded;
  return (Math.round(value / step) * step).toFixed(0);
}

function placesOfDigits(value: number, digits: number): number {
  if (value === 0) return digits - 1;
  // The exponent after rounding: 99.96 to three digits is 100, not 100.0.
  const exponent = Number(value.toExponential(digits - 1).split('e')[1]);
  return digits - 1 - exponent;
}

function placesOfAccuracy(accuracy: number): number {
  return -Math.floor(Math.log10(accuracy) + 1e-12);
}

/**
 * An SI value as it is printed in `unit`: rounded to its significant digits, or by its accuracy, never further.
 * @throws UnitError when the unit is unknown. @throws RangeError for a value that is not finite or bad digits.
 */
export function formatQuantity(siValue: number, unit: string, options: FormatQuantityOptions = {}): FormattedQuantity {
  const { digits = 4, accuracySi, decimalSign = '.' } = options;
  if (!Number.isFinite(siValue)) throw new RangeError(`not a finite value: ${siValue}`);
  if (!Number.isInteger(digits) || digits < 1 || digits > 15) throw new RangeError(`digits must be 1 to 15: ${digits}`);
  const parsed = findUnit(unit);
  if (!parsed) throw new UnitError('unknown-unit', unit, 'a UCUM unit');
  const value = scaleDown(siValue, parsed);
  let places = placesOfDigits(value, digits);
  if (accuracySi !== undefined && accuracySi > 0) {
    places = placesOfAccuracy((accuracySi * parsed.den) / parsed.num / parsed.irrational);
  }
  const plain = toText(value, places);
  const unsigned = plain.replace('-', '');
  const isZero = !/[1-9]/.test(unsigned);
  const text = plain.startsWith('-') && !isZero ? `−${unsigned}` : unsigned;
  return { text: decimalSign === ',' ? text.replace('.', ',') : text, unitSymbol: toUnitSymbol(unit) };
}
