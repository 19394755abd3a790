import { getKindInfo, type QuantityKind } from './kinds.js';
import { findSpelledUnit } from './spellings.js';
import type { Quantity } from './units.js';

export type ParseQuantityCode =
  'empty' | 'not-a-number' | 'ambiguous-number' | 'unit-missing' | 'unit-not-understood' | 'too-large';

export interface ParseQuantityOptions {
  kind: QuantityKind;
  /** true: the comma is the decimal sign and points group; false: the other way round; left out: told from the text */
  decimalComma?: boolean;
  /** the unit (UCUM) that a number without one is in, such as the unit printed beside the field */
  defaultUnit?: string;
}

export type ParseQuantityResult =
  | { ok: true; quantity: Required<Quantity> }
  | { ok: false; problem: { code: ParseQuantityCode; got: string; needs: string } };

const GAP = "['’ \\u00a0\\u2009\\u202f]";
// A gap belongs to the number only before three digits that end there: in "0 1/mL" the second digit starts the unit.
const NUMBER = new RegExp(
  `^([+\\-−]?)\\s*(\\d[\\d.,]*(?:${GAP}\\d{3}(?![\\d/])[.,]?(?:(?<=[.,])\\d*)?)*|[.,]\\d+)(?:[eE]([+\\-−]?\\d{1,3}))?`,
);
const GAPS = new RegExp(GAP, 'g');
const GROUPED_BY_GAPS = new RegExp(`^\\d{1,3}(${GAP}\\d{3})+([.,]\\d*)?$`);

/** Plain digits with at most one point, or why not. Grouping must come in threes: "1 234" is read, "1.2 345" is not. */
function toPlainDecimal(body: string, decimalComma: boolean | undefined): string | 'not-a-number' | 'ambiguous-number' {
  const dense = body.replace(GAPS, '');
  const hasGaps = dense !== body;
  if (hasGaps && !GROUPED_BY_GAPS.test(body)) return 'not-a-number';
  const points = dense.split('.').length - 1;
  const commas = dense.split(',').length - 1;
  if (points + commas === 0) return dense;
  const grouped = (sign: string, decimal: string): string | 'not-a-number' => {
    const at = dense.indexOf(decimal);
    const whole = at < 0 ? dense : dense.slice(0, at);
    const fraction = at < 0 ? null : dense.slice(at + 1);
    if (fraction !== null && !/^\d*$/.test(fraction)) return 'not-a-number';
    if (whole.includes(sign) && !new RegExp(`^\\d{1,3}(\\${sign}\\d{3})+$`).test(whole)) return 'not-a-number';
    const digits = whole.split(sign).join('');
    return fraction === null ? digits : `${digits || '0'}.${fraction}`;
  };
  if (decimalComma === true) return grouped('.', ',');
  if (decimalComma === false) return grouped(',', '.');
  if (commas === 0) return grouped(',', '.');
  if (points === 0 && commas === 1) {
    // "1,234" is one and a bit or more than a thousand: a factor of 1000 is not guessed.
    return /^[1-9]\d{0,2},\d{3}$/.test(dense) && !hasGaps ? 'ambiguous-number' : grouped('.', ',');
  }
  return dense.lastIndexOf(',') > dense.lastIndexOf('.') && commas === 1 ? grouped('.', ',') : grouped(',', '.');
}

/** Significant digits as stated: every digit from the first that is not zero; for a zero, its decimals and the one before. */
function countDigits(plain: string): number {
  const digits = plain.replace('.', '').replace(/^0+/, '');
  if (digits.length > 0) return Math.min(digits.length, 15);
  const point = plain.indexOf('.');
  return Math.min(point < 0 ? 1 : plain.length - point, 15);
}

/**
 * Reads what a person typed into a field: "210 bar", "3000 psi", "1 234,5 bar".
 * Never throws; a problem says what was got and what is needed.
 */
export function parseQuantity(text: string, options: ParseQuantityOptions): ParseQuantityResult {
  const typed = text.trim();
  const units = getKindInfo(options.kind)
    .displayUnits.map(({ symbol }) => symbol)
    .filter((symbol) => symbol !== '')
    .join(', ');
  const refuse = (code: ParseQuantityCode, needs: string): ParseQuantityResult => ({
    ok: false,
    problem: { code, got: text, needs },
  });
  if (typed === '') return refuse('empty', `a number and a unit (${units})`);
  const hit = NUMBER.exec(typed);
  if (!hit) return refuse('not-a-number', `a number and a unit (${units})`);
  const matched = hit[0];
  const sign = hit[1];
  const body = String(hit[2]);
  const exponent = hit[3] ?? '0';
  const plain = toPlainDecimal(body, options.decimalComma);
  if (plain === 'not-a-number') return refuse(plain, 'digits, grouped in threes if at all, and one decimal sign');
  if (plain === 'ambiguous-number') return refuse(plain, 'a number that reads one way only, such as 1234 or 1.234');
  const size = Number(plain) * 10 ** Number(exponent.replace('−', '-'));
  if (!Number.isFinite(size)) return refuse('too-large', 'a number that can be computed with');
  const value = sign === '-' || sign === '−' ? -size : size;
  const rest = typed.slice(matched.length).trim();
  if (rest === '' && options.defaultUnit === undefined && options.kind !== 'ratio') {
    return refuse('unit-missing', `a unit (${units})`);
  }
  const unit = rest === '' ? (options.defaultUnit ?? '1') : findSpelledUnit(rest, options.kind);
  if (unit === null) return refuse('unit-not-understood', `a unit (${units})`);
  return { ok: true, quantity: { value: value === 0 ? 0 : value, unit, digits: countDigits(plain) } };
}
