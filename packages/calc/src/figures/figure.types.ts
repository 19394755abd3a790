import type { QuantityKind } from '@repo/quantity';

/**
 * Which way a figure can only make a proof worse. `lower` and `higher` are of numbers, `true` and `false` of answers; `either` can make
 * one check worse and another one better, which is said beside it.
 */
export type Direction = 'lower' | 'higher' | 'true' | 'false' | 'either';

/** The SI unit of a kind, as it ends the names of facts and columns. */
export const SI_ENDINGS = {
  pressure: 'Pa',
  modulus: 'Pa',
  time: 'S',
  length: 'M',
  force: 'N',
  'kinematic-viscosity': 'M2PerS',
  density: 'KgPerM3',
  temperature: 'K',
  'temperature-difference': 'K',
  damping: 'NsPerM',
  stiffness: 'NPerM',
  flow: 'M3PerS',
} as const satisfies Partial<Record<QuantityKind, string>>;
type StoredKind = keyof typeof SI_ENDINGS;

/** How a column of a spreadsheet is headed, and by which other headings it is recognised (lower case). */
export interface Column {
  readonly header: string;
  readonly synonyms?: readonly string[];
  /** goes before the others of its table */
  readonly place?: 'first';
}
/** Of oil, and of oil with what holds it, softer for hoses and air: 500 to 3,000 MPa are usual [Pa]. */
export const BULK_MODULUS_WITHIN = [100e6, 5_000e6] as const;

/** Where a form asks for a figure: among those of its group, unless it is to be the first or the last of them. */
interface Field {
  readonly group: string;
  readonly place?: 'first' | 'last';
}

/** The least and the most that is usual, and the unit of both; common practice, no source. */
export type Usual = readonly [low: number, high: number, unit: string];

interface AnyFigure<Ways extends Direction> {
  /** what is usual of it, where a component has no figure of its name */
  readonly usual?: Usual;
  /** the way in which it can only make a proof worse, of an element by the element's kind; absent: no proof reads it */
  readonly worse?: Ways | Readonly<Record<string, Ways>>;
  /** what the control sees of every circuit of its machine: beside the circuit's own proof, or alone */
  readonly seenByControl?: 'too' | 'alone';
  /** the other quantity of the same record that it cannot be below */
  readonly notBelow?: string;
  /** absent: neither imported nor exported */
  readonly column?: Column;
  readonly field: Field;
}
type OfNumber = 'lower' | 'higher' | 'either';
/** Typed with a unit, kept as typed and in SI. */
interface PressureFigure extends AnyFigure<OfNumber> {
  readonly type: 'quantity';
  /** a form offers it in the unit that its reader has chosen */
  readonly kind: 'pressure';
  readonly isZeroAllowed?: true;
}
interface OtherQuantityFigure extends AnyFigure<OfNumber> {
  readonly type: 'quantity';
  readonly kind: Exclude<StoredKind, 'pressure'>;
  readonly isZeroAllowed?: true;
  /** the least and the most that it can be [SI]; beyond, it was typed in another unit */
  readonly within?: readonly [least: number, most: number];
  /** in which a form offers it (UCUM) */
  readonly field: Field & { readonly unit: string };
}
/** Yes, no, or nobody has said. */
interface AnswerFigure extends AnyFigure<'true' | 'false' | 'either'> {
  readonly type: 'answer';
  /** it is a no until somebody says yes */
  readonly isAlwaysSaid?: true;
}
/** A plain number; where it is one of a unit, its name ends with that. */
interface NumberFigure extends AnyFigure<OfNumber> {
  readonly type: 'number';
  readonly isWhole?: true;
  readonly least: number;
  /** the least itself is none of them */
  readonly isAboveLeast?: true;
  readonly most: number;
  /** a column takes it with its unit */
  readonly column?: Column & { readonly kind?: QuantityKind; readonly unit?: string };
}
/** One of a few, or nobody has said. */
interface ChoiceFigure extends AnyFigure<'either'> {
  readonly type: 'choice';
  readonly choices: readonly [string, ...string[]];
}

export type QuantityFigure = PressureFigure | OtherQuantityFigure;
export type Figure = QuantityFigure | AnswerFigure | NumberFigure | ChoiceFigure;
/** The figures of a record by their names on the wire: contracts, columns, forms, imports, exports and facts are made from it. */
export type Figures = Readonly<Record<string, Figure>>;

type Name<T> = keyof T & string;
/** Those figures that proofs read of the record itself, and those that the control reads of it. */
type OwnName<T> = {
  [N in Name<T>]: T[N] extends { worse: unknown } ? (T[N] extends { seenByControl: 'alone' } ? never : N) : never;
}[Name<T>];
type ControlName<T> = { [N in Name<T>]: T[N] extends { seenByControl: string } ? N : never }[Name<T>];

/** A figure's name in SI: of a quantity with its unit at the end. */
export type FactName<N extends string, F> = F extends { kind: infer K extends StoredKind }
  ? `${N}${(typeof SI_ENDINGS)[K]}`
  : N;
/** What is known of a figure, in SI; `null` means "nobody has said". */
export type FactValue<F> = F extends { type: 'answer'; isAlwaysSaid: true }
  ? boolean
  : F extends { type: 'answer' }
    ? boolean | null
    : F extends { type: 'choice'; choices: readonly (infer C)[] }
      ? C | null
      : number | null;

/** The values in SI of a record's quantities. */
export type SiOf<T> = {
  [N in Name<T> as T[N] extends { type: 'quantity' } ? FactName<N, T[N]> : never]: number | null;
};
/** What proofs read of a record. */
export type FactsOf<T> = { [N in OwnName<T> as FactName<N, T[N]>]: FactValue<T[N]> };
/** What the control reads of a record. */
export type ControlFactsOf<T> = { [N in ControlName<T> as FactName<N, T[N]>]: FactValue<T[N]> };
