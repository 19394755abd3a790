import { isPlainLine, isPlainText, isPossibleSize, isTiny, timeZoneSchema, type ImportField } from '@repo/contracts';
import { checkUnit, fromSi, parseQuantity, toSi } from '@repo/quantity';
import { wallClockMs } from '../../platform/clock/wall-clock.js';
import type { Cell, NumberWithUnit } from '../../platform/sheets/index.js';
import { decimalOf, onlySignOf, readBothWays, toDateParts, toPlainDate } from './column-style.js';
import { unitOf } from './headings.js';

export interface QuantityValue {
  value: number;
  unit: string;
  digits: number;
  si: number;
}
/** A value of a field as it will be kept. */
export type Value = string | number | boolean | readonly string[] | QuantityValue;

export interface ColumnStyle {
  /** UCUM; of numbers without a unit */
  unit: string | null;
  decimal: 'point' | 'comma' | null;
  /** what the separator is in a number that reads two ways, where its column does not say */
  either: 'point' | 'comma' | null;
  dateOrder: 'day-month' | 'month-day' | null;
}

export type ReadResult =
  { ok: true; value: Value | null } | { ok: false; code: string; params: Record<string, string | number> };

const refuse = (code: string, params: Record<string, string | number> = {}): ReadResult => ({
  ok: false,
  code,
  params,
});
const take = (value: Value | null): ReadResult => ({ ok: true, value });

const YES = new Set(['yes', 'y', 'true', '1', 'x', 'ja', 'oui', 'sim', 'si']);
const NO = new Set(['no', 'n', 'false', '0', '-', 'nein', 'non', 'não']);
const EMAIL = /^[^\s@]+@[^\s@]+\.[^\s@]+$/;
/** What stands for nothing in lists kept by hand. */
const NOTHING = new Set(['', '-', '–', 'n/a', 'na', 'none', 'unknown', '?']);

/** A word for nothing, unless it is one that can be chosen: a coil with the suppression “none” is known to have none. */
function isNothing(cell: string, field: ImportField): boolean {
  const word = cell.trim().toLowerCase();
  return NOTHING.has(word) && field.type !== 'boolean' && field.choices?.includes(word) !== true;
}

/** Reads a cell for a field. Empty is `null`: not given, which never erases what is there. */
export function readValue(cell: Cell, field: ImportField, style: ColumnStyle): ReadResult {
  if (cell === null) return take(null);
  if (typeof cell === 'object') {
    if (cell.t === 'error') return refuse('error-cell', { got: cell.v });
    if (cell.t === 'formula')
      return cell.v === null ? refuse('formula-without-value') : readValue(cell.v, field, style);
    if (cell.t === 'number') return readWithUnit(cell, field, style);
    return readDateCell(cell.v, field);
  }
  if (typeof cell === 'string' && isNothing(cell, field)) return take(null);
  if (typeof cell === 'string' && cell.trim() === '') return take(null);
  switch (field.type) {
    case 'text':
    case 'component-type':
      return readText(cell, field);
    case 'list':
      return readList(String(cell), field);
    case 'choice':
      return readChoice(String(cell), field);
    case 'boolean':
      return readBoolean(cell);
    case 'integer':
    case 'number':
      return readNumber(cell, field, style);
    case 'quantity':
      return readQuantity(cell, field, style);
    case 'date':
    case 'instant':
      return typeof cell === 'string' ? readDate(cell, field, style) : refuse('date-needed', { got: String(cell) });
  }
}

/** What things are known by: as long at most as a name is, and one line. Longer texts are only read. */
const LONGEST_LINE = 120;
const isLine = ({ max, type }: ImportField): boolean => type !== 'text' || (max ?? Infinity) <= LONGEST_LINE;

/** A name as the door takes one: a line that was broken in its cell is one again, and accents are kept in one form. */
const toLine = (text: string): string =>
  text
    .trim()
    .split(/[\r\n]+/)
    .map((line) => line.trim())
    .join(' ')
    .normalize('NFC');

function readText(cell: string | number | boolean, field: ImportField): ReadResult {
  const bare = String(cell)
    .trim()
    .replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g, '');
  const text = isLine(field) ? toLine(bare) : bare;
  const max = field.max ?? 400;
  if (text.length > max) return refuse('too-long', { length: text.length, max });
  if (!(isLine(field) ? isPlainLine(text) : isPlainText(text))) return refuse('characters');
  if (field.key === 'customer.contactEmail' && !EMAIL.test(text)) return refuse('email', { got: text });
  if (field.key === 'site.timeZone' && !isTimeZone(text)) return refuse('time-zone', { got: text });
  return take(text);
}

/** Asking the platform for a time zone is dear, and a file names few. */
const ZONES = new Map<string, boolean>();
function isTimeZone(text: string): boolean {
  let known = ZONES.get(text);
  if (known === undefined) {
    known = timeZoneSchema.safeParse(text).success;
    if (ZONES.size < 1_000) ZONES.set(text, known);
  }
  return known;
}

function readList(text: string, field: ImportField): ReadResult {
  const parts = text
    .split(/[;,/|\n]+/)
    .map(toLine)
    .filter((part) => part !== '');
  for (const part of parts) {
    if (!isPlainLine(part)) return refuse('characters');
    if (part.length > (field.max ?? 120)) return refuse('too-long', { length: part.length, max: field.max ?? 120 });
    if (field.choices !== undefined && !field.choices.includes(part.toLowerCase())) {
      return refuse('choice', { got: part, needs: field.choices.join(', ') });
    }
  }
  return take(
    field.choices === undefined ? [...new Set(parts)] : [...new Set(parts.map((part) => part.toLowerCase()))],
  );
}

function readChoice(text: string, field: ImportField): ReadResult {
  const choices = field.choices ?? [];
  const fold = (one: string): string => one.toLowerCase().replaceAll(/[^a-z0-9.]+/g, '');
  const found = choices.find((choice) => fold(choice) === fold(text));
  if (found !== undefined) return take(found);
  const begun = choices.filter(
    (choice) => fold(text).length >= 3 && fold(choice).startsWith(fold(text).replace(/s$/, '')),
  );
  return begun.length === 1 && begun[0] !== undefined
    ? take(begun[0])
    : refuse('choice', { got: text.trim(), needs: choices.join(', ') });
}

function readBoolean(cell: string | number | boolean): ReadResult {
  if (typeof cell === 'boolean') return take(cell);
  const text = String(cell).trim().toLowerCase();
  if (YES.has(text)) return take(true);
  if (NO.has(text)) return take(false);
  return refuse('yes-or-no', { got: String(cell) });
}

/** A number of a workbook whose format names its unit. */
function readWithUnit({ v, unit }: NumberWithUnit, field: ImportField, style: ColumnStyle): ReadResult {
  if (field.kind === undefined) return readValue(v, field, style);
  const known = unitOf(unit, field.kind);
  if (known === null) return refuse('unit-not-understood', { got: `${v} ${unit}` });
  return readValue(v, field, { ...style, unit: known });
}

/** How the column's comma is meant; a text that reads one way only is read that way in a mixed column. */
function commaOf(text: string, field: ImportField, style: ColumnStyle): boolean | undefined | 'ask' {
  if (style.decimal !== null) return style.decimal === 'comma';
  if (decimalOf(text) !== 'either') return undefined;
  if (readBothWays(text, field) === null) return onlySignOf(text, field) === 'comma';
  return style.either === null ? 'ask' : style.either === 'comma';
}

function readNumber(cell: string | number | boolean, field: ImportField, style: ColumnStyle): ReadResult {
  let value: number;
  if (typeof cell === 'number') value = cell;
  else {
    const text = String(cell);
    const decimalComma = commaOf(text, field, style);
    if (decimalComma === 'ask') return refuse('ambiguous-number', { got: text });
    const parsed = parseQuantity(text, { kind: 'ratio', ...(decimalComma === undefined ? {} : { decimalComma }) });
    if (!parsed.ok || parsed.quantity.unit !== '1') return refuse('number-needed', { got: text });
    value = parsed.quantity.value;
  }
  if (isTiny(value)) return refuse('too-small', { got: String(cell) });
  if (field.type === 'integer' && !Number.isInteger(value)) return refuse('whole-number', { got: String(cell) });
  if ((field.min !== undefined && value < field.min) || (field.max !== undefined && value > field.max)) {
    return refuse('range', { got: String(cell), min: field.min ?? '', max: field.max ?? '' });
  }
  return take(value);
}

const decimalsOf = (text: string): number => {
  const digits = /[.,](\d+)(?!.*[.,]\d)/.exec(text.replace(/[eE].*$/, ''))?.[1];
  return digits === undefined ? 0 : Math.min(digits.length, 15);
};

function readQuantity(cell: string | number | boolean, field: ImportField, style: ColumnStyle): ReadResult {
  const kind = field.kind ?? 'ratio';
  if (typeof cell === 'boolean') return refuse('quantity-needed', { got: String(cell) });
  let parsed: { value: number; unit: string };
  let digits: number;
  if (typeof cell === 'number') {
    if (style.unit === null) return refuse('unit-missing', { got: String(cell) });
    parsed = { value: cell, unit: style.unit };
    digits = decimalsOf(String(cell));
  } else {
    const decimalComma = commaOf(cell, field, style);
    if (decimalComma === 'ask') return refuse('ambiguous-number', { got: cell });
    const result = parseQuantity(cell, {
      kind,
      ...(decimalComma === undefined ? {} : { decimalComma }),
      ...(style.unit === null ? {} : { defaultUnit: style.unit }),
    });
    if (!result.ok) return refuse(result.problem.code, { got: cell.trim(), needs: result.problem.needs });
    parsed = result.quantity;
    const plain = String(parsed.value);
    const isComma = decimalComma ?? decimalOf(cell) === 'comma';
    digits = Math.max(decimalsOf(plain), decimalsOf(cell.replaceAll(isComma ? '.' : ',', '')));
  }
  if (checkUnit(parsed.unit, kind) !== null) return refuse('unit-not-understood', { got: parsed.unit });
  const si = toSi(parsed.value, parsed.unit, kind);
  if (!isPossibleSize(si, kind)) return refuse(isTiny(si) ? 'too-small' : 'too-large', { got: String(cell) });
  if (kind !== 'temperature' && field.negative !== true && (si < 0 || (si === 0 && field.zero !== true))) {
    return refuse(si < 0 ? 'negative' : 'zero', { got: String(cell) });
  }
  if (field.within !== undefined && (si < field.within[0] || si > field.within[1])) {
    const [min, max] = field.within.map((end) => Number(fromSi(end, parsed.unit, kind).toPrecision(6)));
    return refuse('range', { got: String(cell), min: `${min}`, max: `${max} ${parsed.unit}` });
  }
  return take({ value: parsed.value, unit: parsed.unit, digits: Math.min(digits, 15), si });
}

/** Nothing that is recorded here was before the one or will be after the other: the same at the door. */
const isPlausible = (year: number): boolean => year >= 1900 && year <= 2200;

function toIso(year: number, month: number, day: number, time: string, zone: string, field: ImportField): ReadResult {
  const date = new Date(Date.UTC(year, month - 1, day));
  const isReal = date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  if (!isReal || !isPlausible(year)) return refuse('no-such-date', { got: `${year}-${month}-${day}` });
  const iso = date.toISOString().slice(0, 10);
  if (field.type === 'date') return take(iso);
  if (zone !== '') return take(new Date(`${iso}T${clock(time)}${zone}`).toISOString());
  return take(time === '' ? iso : `${iso}T${clock(time)}`);
}

const clock = (time: string): string => {
  const [hours = '00', minutes = '00', seconds = '00'] = time.split(':');
  return `${hours.padStart(2, '0')}:${minutes}:${seconds}`;
};

function readDateCell(iso: string, field: ImportField): ReadResult {
  // What is no day to whoever typed it: an empty cell that is shown as one, or a number.
  const isDay = field.type === 'date' || field.type === 'instant';
  if (isDay && !isPlausible(new Date(iso).getUTCFullYear())) return refuse('no-such-date', { got: iso.slice(0, 10) });
  if (field.type === 'date') return take(iso.slice(0, 10));
  if (field.type === 'instant') return take(iso);
  if (field.type === 'text') return take(iso);
  if (field.type === 'integer' && field.key === 'machine.madeYear') return take(Number(iso.slice(0, 4)));
  // A spreadsheet that took "3-4" for a date has lost what was typed.
  return refuse('became-a-date', { got: iso });
}

function readDate(text: string, field: ImportField, style: ColumnStyle): ReadResult {
  const plain = toPlainDate(text);
  if (plain !== null) return toIso(plain.year, plain.month, plain.day, plain.time, plain.zone, field);
  const parts = toDateParts(text);
  if (parts === null) return refuse('date-needed', { got: text.trim() });
  const { first, second, year, time } = parts;
  const order =
    first > 12 ? 'day-month' : second > 12 ? 'month-day' : (style.dateOrder ?? (first === second ? 'day-month' : null));
  if (order === null) return refuse('ambiguous-date', { got: text.trim() });
  if (style.dateOrder !== null && order !== style.dateOrder) return refuse('other-date-order', { got: text.trim() });
  return order === 'day-month'
    ? toIso(year, second, first, time, '', field)
    : toIso(year, first, second, time, '', field);
}

/** An instant from a wall clock in a time zone; one that says its offset stays as it is. */
export function toInstant(wall: string, timeZone: string): string {
  if (/Z$|[+-]\d{2}:\d{2}$/.test(wall)) return new Date(wall).toISOString();
  const asUtc = Date.parse(`${wall.length === 10 ? `${wall}T00:00:00` : wall}Z`);
  let at = asUtc;
  // Twice, for a day on which the clock changes.
  for (let round = 0; round < 2; round += 1) at = asUtc - offsetAt(at, timeZone);
  return new Date(at).toISOString();
}

/** Offsets by zone and quarter of an hour: no clock changes between. */
const OFFSETS = new Map<string, number>();
const QUARTER_MS = 15 * 60_000;
function offsetAt(at: number, timeZone: string): number {
  const key = `${timeZone} ${Math.floor(at / QUARTER_MS)}`;
  let known = OFFSETS.get(key);
  if (known === undefined) {
    known = wallClockMs(at, timeZone) - at;
    if (OFFSETS.size > 50_000) OFFSETS.clear();
    OFFSETS.set(key, known);
  }
  return known;
}
