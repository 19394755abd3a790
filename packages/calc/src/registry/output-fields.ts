import { fromSi, type QuantityKind } from '@repo/quantity';
import { SI_SUFFIX, type SiSuffix } from './limits.js';
import { toDifferenceUnit } from './like-fields.js';
import type { Reading } from './problem.js';

export interface OutputDescription {
  type:
    | 'quantity'
    | 'quantity-list'
    | 'number'
    | 'number-list'
    | 'boolean'
    | 'word'
    | 'word-list'
    | 'object'
    | 'list'
    | 'like'
    | 'json';
  kind?: QuantityKind;
  /** the unit that it is given in (UCUM) */
  unit?: string;
  words?: readonly string[];
  fields?: Readonly<Record<string, OutputDescription>>;
  symbol?: string;
  meaning?: string;
}

/** One output: turns SI into wire JSON. `null` stays null (asked for, does not exist); undefined is left out. */
export interface OutputField<T = never, S extends string = string> {
  readonly suffix: S;
  write(value: T, path: string, reading: Reading): unknown;
  describe(): OutputDescription;
}
// `never` in the argument makes every output field assignable to this, as a function's parameter is contravariant.
export type OutputFields = Readonly<Record<string, OutputField<never, string>>>;

type Written<F> = F extends OutputField<infer T, string> ? T : never;
export type SiOutput<O extends OutputFields> = {
  [K in keyof O & string as `${K}${O[K]['suffix']}`]: Written<O[K]> | null | undefined;
};

function finite(value: number, path: string, reading: Reading): number {
  if (!Number.isFinite(value)) {
    reading.refuse(
      path,
      value,
      'no-result',
      'inputs within the range of the calculation: this output has no finite value',
    );
  }
  return value === 0 ? 0 : value;
}

export function quantityOut<K extends QuantityKind>(kind: K, unit: string): OutputField<number, SiSuffix<K>> {
  return {
    suffix: SI_SUFFIX[kind],
    write: (value, path, reading) => ({ value: finite(fromSi(value, unit, kind), path, reading), unit }),
    describe: () => ({ type: 'quantity', kind, unit }),
  };
}

/** A list of like quantities; null in it: that one does not exist. */
export function quantityListOut<K extends QuantityKind>(
  kind: K,
  unit: string,
): OutputField<readonly (number | null)[], SiSuffix<K>> {
  return {
    suffix: SI_SUFFIX[kind],
    write: (values, path, reading) => ({
      value: values.map((value) => (value === null ? null : finite(fromSi(value, unit, kind), path, reading))),
      unit,
    }),
    describe: () => ({ type: 'quantity-list', kind, unit }),
  };
}

export function numberOut(): OutputField<number, ''> {
  return { suffix: '', write: finite, describe: () => ({ type: 'number' }) };
}

export function numberListOut(): OutputField<readonly (number | null)[], ''> {
  return {
    suffix: '',
    write: (values, path, reading) => values.map((value) => (value === null ? null : finite(value, path, reading))),
    describe: () => ({ type: 'number-list' }),
  };
}

export function booleanOut(): OutputField<boolean, ''> {
  return { suffix: '', write: (value) => value, describe: () => ({ type: 'boolean' }) };
}

export function wordOut(...words: readonly string[]): OutputField<string, ''> {
  return {
    suffix: '',
    write: (value) => value,
    describe: () => ({ type: 'word', ...(words.length > 0 ? { words } : {}) }),
  };
}

export function wordListOut(...words: readonly string[]): OutputField<readonly string[], ''> {
  return {
    suffix: '',
    write: (values) => values,
    describe: () => ({ type: 'word-list', ...(words.length > 0 ? { words } : {}) }),
  };
}

/** In the unit of a group of like inputs, or derived from it; plain when the group is plain. */
export function likeOut(group: string, toUnit: (unit: string) => string = (unit) => unit): OutputField<number, ''> {
  return {
    suffix: '',
    write(value, path, reading) {
      const unit = reading.groups.get(group)?.unit ?? null;
      const number = finite(value, path, reading);
      return unit === null ? number : { value: number, unit: toUnit(unit) };
    },
    describe: () => ({ type: 'like' }),
  };
}

export const likeDifferenceOut = (group: string): OutputField<number, ''> => likeOut(group, toDifferenceUnit);

/** A time (or, with `rate`, one over a time) in hours or days, whose group is kept in days; plain when the group is plain. */
export function likeTimeOut(group: string, unit: 'h' | 'd' | '1/h' | '1/d'): OutputField<number, ''> {
  const factor = { h: 24, d: 1, '1/h': 1 / 24, '1/d': 1 }[unit];
  return {
    suffix: '',
    write(value, path, reading) {
      const isPlain = (reading.groups.get(group)?.unit ?? null) === null;
      return isPlain ? finite(value, path, reading) : { value: finite(value * factor, path, reading), unit };
    },
    describe: () => ({ type: 'like', unit }),
  };
}

/** A change of one group's figure per day of another's, such as bar/d; plain figures leave their part out. */
export function likeSlopeOut(group: string, timeGroup: string): OutputField<number, ''> {
  return {
    suffix: '',
    write(value, path, reading) {
      const number = finite(value, path, reading);
      const unit = reading.groups.get(group)?.unit ?? null;
      const isPlainTime = (reading.groups.get(timeGroup)?.unit ?? null) === null;
      if (unit === null) return isPlainTime ? number : { value: number, unit: '1/d' };
      const difference = toDifferenceUnit(unit);
      return { value: number, unit: isPlainTime ? difference : `${difference}/d` };
    },
    describe: () => ({ type: 'like' }),
  };
}

export function writeFields(
  fields: OutputFields,
  result: Readonly<Record<string, unknown>>,
  path: string,
  reading: Reading,
): Record<string, unknown> {
  const written: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(fields)) {
    const value = result[`${name}${field.suffix}`];
    const at = path === '' ? name : `${path}.${name}`;
    if (value === null) written[name] = null;
    // The entry's type has tied this value to this field's type.
    else if (value !== undefined) written[name] = field.write(value as never, at, reading);
  }
  return written;
}

export function describeOutputs(fields: OutputFields): Record<string, OutputDescription> {
  return Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.describe()]));
}

export function objectOut<O extends OutputFields>(fields: O): OutputField<SiOutput<O>, ''> {
  return {
    suffix: '',
    write: (value, path, reading) => writeFields(fields, value, path, reading),
    describe: () => ({ type: 'object', fields: describeOutputs(fields) }),
  };
}

export function listOut<O extends OutputFields>(fields: O): OutputField<readonly SiOutput<O>[], ''> {
  return {
    suffix: '',
    write: (items, path, reading) =>
      items.map((item, index) => writeFields(fields, item, `${path}[${index}]`, reading)),
    describe: () => ({ type: 'list', fields: describeOutputs(fields) }),
  };
}
