import { checkUnit, getKindInfo, toSi, type QuantityKind } from '@repo/quantity';
import { findAbsurdity, isSignedKind, LARGEST_PLAIN, LONGEST_LIST, SI_SUFFIX, type SiSuffix } from './limits.js';
import type { Vector3 } from '../holding/vector.js';
import type { Reading } from './problem.js';

/** How one input is described to people and programs; plain JSON. */
export interface FieldDescription {
  type:
    | 'quantity'
    | 'quantity-list'
    | 'vector'
    | 'direction'
    | 'number'
    | 'number-list'
    | 'fraction'
    | 'count'
    | 'boolean'
    | 'word'
    | 'word-list'
    | 'text'
    | 'object'
    | 'list'
    | 'like';
  kind?: QuantityKind;
  /** units offered, the usual one first (UCUM) */
  units?: readonly string[];
  words?: readonly string[];
  /** a value below zero is accepted */
  signed?: boolean;
  /** zero is accepted */
  zero?: boolean;
  /** of a list: the fewest and the most entries; of a whole number: its least and greatest value */
  least?: number;
  most?: number;
  fields?: Readonly<Record<string, FieldDescription>>;
  required?: boolean;
  default?: unknown;
  symbol?: string;
  meaning?: string;
}

/** One input: reads wire JSON into SI, or reports a problem and returns undefined. */
export interface InputField<T = unknown, S extends string = string> {
  /** ending that the SI field's name adds to the wire name */
  readonly suffix: S;
  readonly optional: boolean;
  readonly children?: InputFields;
  read(raw: unknown, path: string, reading: Reading): T | undefined;
  /** value when the input is left out, as it would be sent */
  readonly defaultWire?: unknown;
  describe(): FieldDescription;
}
export type InputFields = Readonly<Record<string, InputField>>;

type Read<F> = F extends InputField<infer T, string> ? T : never;
/** The SI object that a set of input fields is read into. */
export type SiInput<I extends InputFields> = {
  [K in keyof I & string as `${K}${I[K]['suffix']}`]: Read<I[K]>;
};

export interface NumberRules {
  /** zero is refused: the definition divides by it or takes its logarithm */
  positive?: true;
  /** either sign */
  signed?: true;
}

export function checkNumber(
  raw: unknown,
  value: number,
  path: string,
  reading: Reading,
  rules: NumberRules,
): number | undefined {
  if (value < 0 && !rules.signed) return reading.refuse(path, raw, 'negative', 'not below zero');
  if (value === 0 && rules.positive) return reading.refuse(path, raw, 'zero', 'above zero');
  return value;
}

export function isRecord(raw: unknown): raw is Record<string, unknown> {
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw);
}

const describeQuantity = (kind: QuantityKind): string =>
  `a quantity { value, unit } of kind ${kind}, in ${getKindInfo(kind).displayUnits[0]?.unit} or another unit of it`;

/** The parts of a quantity object with a unit of the right kind; reports anything else. */
function readUnit(
  raw: unknown,
  path: string,
  reading: Reading,
  kind: QuantityKind,
): { value: unknown; unit: string } | undefined {
  const needs = describeQuantity(kind);
  if (!isRecord(raw)) return reading.refuse(path, raw, 'wrong-type', needs);
  const { value, unit, digits } = raw;
  const stray = Object.keys(raw).find((key) => key !== 'value' && key !== 'unit' && key !== 'digits');
  if (stray !== undefined) return reading.refuse(path, raw, 'unknown-name', `${needs}, and nothing else`);
  if (typeof unit !== 'string') return reading.refuse(path, raw, 'unknown-unit', needs);
  if (digits !== undefined && !Number.isInteger(digits)) return reading.refuse(path, raw, 'not-whole', needs);
  const code = checkUnit(unit, kind);
  if (code) return reading.refuse(path, raw, code, code === 'temperature-point' ? 'a difference, in K' : needs);
  return { value, unit };
}

function toSiNumber(
  raw: unknown,
  value: unknown,
  unit: string,
  kind: QuantityKind,
  path: string,
  reading: Reading,
  rules: NumberRules,
): number | undefined {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    return reading.refuse(path, raw, 'not-a-number', 'a finite number as value');
  }
  const si = toSi(value, unit, kind);
  const absurd = findAbsurdity(si, kind);
  if (absurd !== null) return reading.refuse(path, raw, 'absurd', absurd);
  if (!Number.isFinite(si)) return reading.refuse(path, raw, 'absurd', 'a size that can be computed with');
  return checkNumber(raw, si, path, reading, isSignedKind(kind) ? { ...rules, signed: true } : rules);
}

function describeNumbers(rules: NumberRules): Pick<FieldDescription, 'signed' | 'zero'> {
  return { signed: rules.signed ?? false, zero: rules.positive !== true };
}

export function quantity<K extends QuantityKind>(kind: K, rules: NumberRules = {}): InputField<number, SiSuffix<K>> {
  return {
    suffix: SI_SUFFIX[kind],
    optional: false,
    read(raw, path, reading) {
      const parts = readUnit(raw, path, reading, kind);
      return parts && toSiNumber(raw, parts.value, parts.unit, kind, path, reading, rules);
    },
    describe: () => ({
      type: 'quantity',
      kind,
      units: getKindInfo(kind).displayUnits.map(({ unit }) => unit),
      ...describeNumbers(isSignedKind(kind) ? { ...rules, signed: true } : rules),
    }),
  };
}

function readArray(
  raw: unknown,
  path: string,
  reading: Reading,
  kind: QuantityKind,
  rules: NumberRules,
): number[] | undefined {
  const parts = readUnit(raw, path, reading, kind);
  if (!parts) return undefined;
  if (!Array.isArray(parts.value)) return reading.refuse(path, raw, 'wrong-type', 'an array of numbers as value');
  if (parts.value.length > LONGEST_LIST)
    return reading.refuse(path, null, 'too-many', `at most ${LONGEST_LIST} values`);
  const values = parts.value.map((value: unknown) => toSiNumber(raw, value, parts.unit, kind, path, reading, rules));
  return values.every((value) => value !== undefined) ? values : undefined;
}

/** Several like quantities in one: { value: [..], unit }. */
export function quantityList<K extends QuantityKind>(
  kind: K,
  rules: NumberRules & { least?: number } = {},
): InputField<number[], SiSuffix<K>> {
  return {
    suffix: SI_SUFFIX[kind],
    optional: false,
    read(raw, path, reading) {
      const values = readArray(raw, path, reading, kind, rules);
      const least = rules.least ?? 1;
      if (values && values.length < least) return reading.refuse(path, raw, 'wrong-length', `at least ${least} values`);
      return values;
    },
    describe: () => ({
      type: 'quantity-list',
      kind,
      units: getKindInfo(kind).displayUnits.map(({ unit }) => unit),
      ...describeNumbers(rules),
      least: rules.least ?? 1,
      most: LONGEST_LIST,
    }),
  };
}

function toVector(values: readonly number[]): Vector3 | undefined {
  const [x, y, z] = values as Vector3;
  return values.length === 3 ? [x, y, z] : undefined;
}

/** Three components with a unit: { value: [x, y, z], unit }. */
export function vector<K extends QuantityKind>(kind: K): InputField<Vector3, SiSuffix<K>> {
  return {
    suffix: SI_SUFFIX[kind],
    optional: false,
    read(raw, path, reading) {
      const values = readArray(raw, path, reading, kind, { signed: true });
      return values && (toVector(values) ?? reading.refuse(path, raw, 'wrong-length', 'three components'));
    },
    describe: () => ({
      type: 'vector',
      kind,
      units: getKindInfo(kind).displayUnits.map(({ unit }) => unit),
      signed: true,
      zero: true,
    }),
  };
}

function checkPlain(raw: unknown, path: string, reading: Reading): number | undefined {
  if (typeof raw !== 'number' || !Number.isFinite(raw))
    return reading.refuse(path, raw, 'not-a-number', 'a plain finite number');
  if (Math.abs(raw) > LARGEST_PLAIN) return reading.refuse(path, raw, 'absurd', 'at most 1e12');
  return raw;
}

/** A direction: three plain numbers, any length but zero. */
export function direction(): InputField<Vector3, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      if (!Array.isArray(raw) || raw.length !== 3) {
        return reading.refuse(path, raw, 'wrong-length', 'three plain numbers [x, y, z]');
      }
      const values = raw.map((value: unknown) => checkPlain(value, path, reading));
      if (values.includes(undefined)) return undefined;
      const numbers = values.map(Number);
      return Math.hypot(...numbers) > 0
        ? toVector(numbers)
        : reading.refuse(path, raw, 'zero', 'a direction of any length but zero');
    },
    describe: () => ({ type: 'direction', signed: true, zero: false }),
  };
}

/** A plain (dimensionless) number. */
export function plain(rules: NumberRules = {}): InputField<number, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const value = checkPlain(raw, path, reading);
      return value === undefined ? undefined : checkNumber(raw, value, path, reading, rules);
    },
    describe: () => ({ type: 'number', ...describeNumbers(rules) }),
  };
}

/** A share of something: 0 to 1, written 0.1, not 10. `belowOne`: 1 itself is refused. */
export function fraction(rules: { positive?: true; belowOne?: true } = {}): InputField<number, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const value = plain(rules.positive ? { positive: true } : {}).read(raw, path, reading);
      if (value !== undefined && (value > 1 || (value === 1 && rules.belowOne))) {
        return reading.refuse(path, raw, 'above-one', rules.belowOne ? 'a fraction below 1' : 'a fraction, at most 1');
      }
      return value;
    },
    describe: () => ({ type: 'fraction', signed: false, zero: rules.positive !== true }),
  };
}

/** A whole number. */
export function count(rules: NumberRules & { least?: number; most?: number } = {}): InputField<number, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const value = plain(rules).read(raw, path, reading);
      if (value === undefined) return undefined;
      if (!Number.isInteger(value)) return reading.refuse(path, raw, 'not-whole', 'a whole number');
      if (value < (rules.least ?? value)) return reading.refuse(path, raw, 'out-of-range', `at least ${rules.least}`);
      if (value > (rules.most ?? value)) return reading.refuse(path, raw, 'out-of-range', `at most ${rules.most}`);
      return value;
    },
    describe: () => ({
      type: 'count',
      ...describeNumbers(rules),
      ...(rules.least === undefined ? {} : { least: rules.least }),
      ...(rules.most === undefined ? {} : { most: rules.most }),
    }),
  };
}

export function boolean(): InputField<boolean, ''> {
  return {
    suffix: '',
    optional: false,
    read: (raw, path, reading) =>
      typeof raw === 'boolean' ? raw : reading.refuse(path, raw, 'wrong-type', 'true or false'),
    describe: () => ({ type: 'boolean' }),
  };
}

export function word<W extends string>(...words: readonly W[]): InputField<W, ''> {
  return {
    suffix: '',
    optional: false,
    read: (raw, path, reading) =>
      words.find((known) => known === raw) ?? reading.refuse(path, raw, 'unknown-word', `one of ${words.join(', ')}`),
    describe: () => ({ type: 'word', words }),
  };
}

/** Several of listed words, no more than there are. */
export function wordList<W extends string>(...words: readonly W[]): InputField<W[], ''> {
  const wordField = word(...words);
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      if (!Array.isArray(raw)) return reading.refuse(path, raw, 'wrong-type', 'a list of words');
      if (raw.length > words.length) return reading.refuse(path, null, 'too-many', `at most ${words.length} words`);
      const found = raw.map((item: unknown, index) => wordField.read(item, `${path}[${index}]`, reading));
      return found.every((item) => item !== undefined) ? found : undefined;
    },
    describe: () => ({ type: 'word-list', words, least: 0, most: words.length }),
  };
}

/** One of listed plain numbers, such as accuracy classes. */
export function oneOf(...numbers: readonly number[]): InputField<number, ''> {
  return {
    suffix: '',
    optional: false,
    read(raw, path, reading) {
      const value = checkPlain(raw, path, reading);
      if (value === undefined || numbers.includes(value)) return value;
      return reading.refuse(path, raw, 'unknown-word', `one of ${numbers.join(', ')}`);
    },
    describe: () => ({ type: 'number', words: numbers.map(String), signed: false, zero: numbers.includes(0) }),
  };
}

/** A name given by the user; not computed with. */
export function text(): InputField<string, ''> {
  return {
    suffix: '',
    optional: false,
    read: (raw, path, reading) =>
      typeof raw === 'string' && raw.length <= 200
        ? raw
        : reading.refuse(path, raw, 'wrong-type', 'a text of at most 200 characters'),
    describe: () => ({ type: 'text' }),
  };
}

/** May be left out; the SI field is then undefined. */
export function optional<T, S extends string>(field: InputField<T, S>): InputField<T | undefined, S> {
  return { ...field, optional: true };
}

/** May be left out; `defaultWire` (as it would be sent) then stands in, and is shown in the description. */
export function withDefault<T, S extends string>(field: InputField<T, S>, defaultWire: unknown): InputField<T, S> {
  return { ...field, optional: true, defaultWire };
}

export function describeFields(fields: InputFields): Record<string, FieldDescription> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, field]) => [
      name,
      {
        ...field.describe(),
        required: !field.optional,
        ...(field.defaultWire === undefined ? {} : { default: field.defaultWire }),
      },
    ]),
  );
}

/** Reads an object's inputs one by one; unknown names are problems, since a slip must not fall back on a default. */
export function readFields(
  fields: InputFields,
  raw: unknown,
  path: string,
  reading: Reading,
): Record<string, unknown> | undefined {
  if (!isRecord(raw)) return reading.refuse(path, raw, 'not-an-object', 'an object of named inputs');
  const before = reading.refusals;
  const at = (name: string): string => (path === '' ? name : `${path}.${name}`);
  for (const name of Object.keys(raw)) {
    if (!Object.hasOwn(fields, name)) {
      reading.refuse(at(name), raw[name], 'unknown-name', `one of ${Object.keys(fields).join(', ')}`);
    }
  }
  const read: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(fields)) {
    const given = Object.hasOwn(raw, name) && raw[name] !== undefined;
    if (!given && !field.optional) reading.refuse(at(name), null, 'missing', 'a value: it has no default');
    else if (given) read[`${name}${field.suffix}`] = field.read(raw[name], at(name), reading);
    else if (field.defaultWire !== undefined) {
      read[`${name}${field.suffix}`] = field.read(field.defaultWire, at(name), reading);
    }
  }
  return reading.refusals === before ? read : undefined;
}

/** A group of named inputs within one. */
export function object<I extends InputFields>(children: I): InputField<SiInput<I>, ''> {
  return {
    suffix: '',
    optional: false,
    children,
    read: (raw, path, reading) => readFields(children, raw, path, reading) as SiInput<I> | undefined,
    describe: () => ({ type: 'object', fields: describeFields(children) }),
  };
}

/** A list of such groups. */
export function list<I extends InputFields>(
  children: I,
  rules: { least?: number; most?: number } = {},
): InputField<SiInput<I>[], ''> {
  const { least = 1, most = LONGEST_LIST } = rules;
  return {
    suffix: '',
    optional: false,
    children,
    read(raw, path, reading) {
      if (!Array.isArray(raw)) return reading.refuse(path, raw, 'wrong-type', 'a list of objects');
      if (raw.length < least) return reading.refuse(path, raw, 'wrong-length', `at least ${least}`);
      if (raw.length > most) return reading.refuse(path, null, 'too-many', `at most ${most}`);
      const items = raw.map((item: unknown, index) => readFields(children, item, `${path}[${index}]`, reading));
      return items.includes(undefined) ? undefined : (items as SiInput<I>[]);
    },
    describe: () => ({ type: 'list', fields: describeFields(children), least, most }),
  };
}
