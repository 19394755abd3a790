import type { ImportColumn, ImportField } from '@repo/contracts';
import type { Cell } from '../../platform/sheets/index.js';

type NumberStyle = ImportColumn['numbers'];
type DateStyle = ImportColumn['dates'];

const GAP = "['’\\s\\u00a0\\u2009\\u202f]";
/** A number at the beginning of a text; what follows is a unit. */
const LEADING = new RegExp(`^[+\\-−]?\\d(?:[\\d.,]|${GAP}(?=\\d{3}))*`);

const SIGN_OR_GAP = new RegExp(`[+\\-−]|${GAP}`, 'g');

type Reading = 'point' | 'comma' | 'either' | 'plain' | null;

/** How the decimal sign of one number reads. */
export function decimalOf(text: string): Reading {
  const body = LEADING.exec(text.trim())?.[0].replaceAll(SIGN_OR_GAP, '');
  if (body === undefined) return null;
  const points = body.split('.').length - 1;
  const commas = body.split(',').length - 1;
  if (points + commas === 0) return 'plain';
  if (points > 0 && commas > 0) return body.lastIndexOf(',') > body.lastIndexOf('.') ? 'comma' : 'point';
  if (commas > 1) return 'point';
  if (points > 1) return 'comma';
  // "1,234" and "1.234": one and a bit, or more than a thousand. "0,234" and "12,34" cannot group.
  if (commas === 1) return /^[1-9]\d{0,2},\d{3}$/.test(body) ? 'either' : 'comma';
  return /^[1-9]\d{0,2}\.\d{3}$/.test(body) ? 'either' : 'point';
}

export interface ReadBothWays {
  point: number;
  comma: number;
}

/** A number such as "1.500" or "1,500", read either way; null where it reads one way only, or only one of the two is possible. */
export function readBothWays(text: string, field: Pick<ImportField, 'type' | 'min' | 'max'>): ReadBothWays | null {
  if (decimalOf(text) !== 'either') return null;
  const body = String(LEADING.exec(text.trim())?.[0]).replaceAll(new RegExp(GAP, 'g'), '').replace('−', '-');
  const [decimal, grouped] = [Number(body.replace(',', '.')), Number(body.replace(/[.,]/, ''))];
  const isPossible = (value: number): boolean =>
    value >= (field.min ?? -Infinity) &&
    value <= (field.max ?? Infinity) &&
    (field.type !== 'integer' || Number.isInteger(value));
  if (!isPossible(decimal) || !isPossible(grouped)) return null;
  return body.includes('.') ? { point: decimal, comma: grouped } : { point: grouped, comma: decimal };
}

/** Which sign is the decimal one in a text that `readBothWays` finds to read one way. */
export function onlySignOf(text: string, field: Pick<ImportField, 'type' | 'min' | 'max'>): 'point' | 'comma' {
  const body = String(LEADING.exec(text.trim())?.[0]);
  const isDecimal = Number(body.replace(/[.,]/, '')) > (field.max ?? Infinity);
  return body.includes('.') === isDecimal ? 'point' : 'comma';
}

/** The unit, or whatever stands behind the number. */
export const behindNumber = (text: string): string => text.trim().replace(LEADING, '').trim();

export interface DateParts {
  first: number;
  second: number;
  year: number;
  time: string;
}
const TIME = '(?:[T ,]+(\\d{1,2}:\\d{2}(?::\\d{2})?))?';
const NUMERIC = new RegExp(`^(\\d{1,2})([./-])(\\d{1,2})\\2(\\d{4})${TIME}$`);
const ISO = new RegExp(`^(\\d{4})-(\\d{2})-(\\d{2})${TIME}(\\.\\d+)?(Z|[+-]\\d{2}:?\\d{2})?$`);
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const NAMED = new RegExp(`^(\\d{1,2})[. -]+([A-Za-z]{3,9})[., -]+(\\d{4})${TIME}$`);

/** A date of digits whose order of day and month the digits may not say. */
export function toDateParts(text: string): DateParts | null {
  const hit = NUMERIC.exec(text.trim());
  if (hit === null) return null;
  return { first: Number(hit[1]), second: Number(hit[3]), year: Number(hit[4]), time: hit[5] ?? '' };
}

export interface PlainDate {
  year: number;
  month: number;
  day: number;
  time: string;
  /** `Z` or an offset, where it was said */
  zone: string;
}

/** A date that reads one way: ISO 8601, or a month by its English name. */
export function toPlainDate(text: string): PlainDate | null {
  const iso = ISO.exec(text.trim());
  if (iso !== null) {
    // Fractions of a second stay: an instant that was exported must read back as itself.
    const time = `${iso[4] ?? ''}${iso[5] ?? ''}`;
    return { year: Number(iso[1]), month: Number(iso[2]), day: Number(iso[3]), time, zone: iso[6] ?? '' };
  }
  const named = NAMED.exec(text.trim());
  if (named === null) return null;
  const month = MONTHS.indexOf(String(named[2]).slice(0, 3).toLowerCase()) + 1;
  return month === 0 ? null : { year: Number(named[3]), month, day: Number(named[1]), time: named[4] ?? '', zone: '' };
}

interface Tally {
  point: number;
  comma: number;
  either: string[];
  plain: number;
}

function numberStyleOf(texts: readonly string[]): { style: NumberStyle; examples: string[] } {
  const tally: Tally = { point: 0, comma: 0, either: [], plain: 0 };
  for (const text of texts) {
    const reading = decimalOf(text);
    if (reading === 'either') tally.either.push(text);
    else if (reading !== null) tally[reading] += 1;
  }
  const examples = [...new Set(tally.either)].slice(0, 5);
  if (tally.point > 0 && tally.comma > 0) return { style: 'mixed', examples };
  // Nothing else in the column says what the sign in "1.234" or "1,234" is: that is asked.
  const points = tally.either.filter((text) => text.includes('.'));
  const commas = tally.either.filter((text) => text.includes(','));
  if (points.length > 0 && commas.length > 0) return { style: 'ambiguous', examples };
  if (tally.comma > 0) return { style: 'comma', examples };
  if (tally.point > 0) return { style: 'point', examples };
  if (tally.either.length > 0) return { style: 'ambiguous', examples };
  return { style: tally.plain > 0 ? 'plain' : 'none', examples: [] };
}

function dateStyleOf(texts: readonly string[]): { style: DateStyle; examples: string[] } {
  let [dayFirst, monthFirst, plain] = [0, 0, 0];
  const either: string[] = [];
  for (const text of texts) {
    const parts = toDateParts(text);
    if (parts === null) {
      if (toPlainDate(text) !== null) plain += 1;
    } else if (parts.first > 12) dayFirst += 1;
    else if (parts.second > 12) monthFirst += 1;
    else if (parts.first !== parts.second) either.push(text);
    else plain += 1;
  }
  const examples = [...new Set(either)].slice(0, 5);
  if (dayFirst > 0 && monthFirst > 0) return { style: 'mixed', examples };
  if (dayFirst > 0) return { style: 'day-month', examples };
  if (monthFirst > 0) return { style: 'month-day', examples };
  if (either.length > 0) return { style: 'ambiguous', examples };
  return { style: plain > 0 ? 'plain' : 'none', examples: [] };
}

/** What the texts of a column say about decimal sign and order of day and month; cells that have a type say nothing. */
export function styleOf(cells: Iterable<Cell>): Pick<ImportColumn, 'numbers' | 'dates' | 'examples'> {
  const texts: string[] = [];
  for (const cell of cells) {
    const value = typeof cell === 'object' && cell !== null && cell.t === 'formula' ? cell.v : cell;
    if (typeof value === 'string') texts.push(value);
  }
  const numbers = numberStyleOf(texts);
  const dates = dateStyleOf(texts);
  // "03.04.2026" looks like a grouped number to the letter; it is a date.
  const isDates = dates.style !== 'none';
  return {
    numbers: isDates ? 'none' : numbers.style,
    dates: dates.style,
    examples: isDates ? dates.examples : numbers.examples,
  };
}
