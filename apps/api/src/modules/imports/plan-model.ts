import { importField, type ImportEntity, type ImportOutcome, type ImportRemark } from '@repo/contracts';
import { fromSi, getKindInfo, toUnitSymbol } from '@repo/quantity';
import type { StoredColumns } from './derived-columns.js';
import type { QuantityValue, Value } from './read-value.js';

/** A record as the database has it. */
export interface Existing {
  id: string;
  /** of records with revisions: the revision */
  version: number;
  archived: boolean;
  links: Readonly<Record<string, string | null>>;
  values: Readonly<Record<string, Value | null>>;
  /** columns that hold several fields, or follow from them, as they are stored */
  derived: StoredColumns;
}

export interface ComponentTypeFacts {
  id: string;
  name: string;
  kind: string;
  /** as they are stored */
  figures: unknown;
}

/** What the database holds of what a file may speak of, found by natural keys. */
export interface Snapshot {
  find(entity: ImportEntity, key: string): Existing | undefined;
  /** elements of one fixture that have the same name, in the order of the fixture */
  elements(key: string): readonly Existing[];
  componentType(nameOrPart: string): ComponentTypeFacts | undefined;
  /** also one that is no longer in use */
  componentTypeOfId(id: string): ComponentTypeFacts | undefined;
  /** stations that a machine has now */
  stationCount(machineId: string): number;
}

export interface Given {
  value: Value;
  /** such as C14; null for a constant */
  cell: string | null;
}

export interface FieldChange {
  field: string;
  from: Value | null;
  to: Value | null;
  cell: string | null;
}

/** One record that a file speaks of, in one row or in many. */
export interface Rec {
  readonly entity: ImportEntity;
  readonly key: string;
  readonly label: string;
  readonly parents: Partial<Record<ImportEntity, Rec>>;
  readonly values: Map<string, Given>;
  /** positions of the rows that speak of it, the first first */
  readonly rows: number[];
  existing: Existing | null;
  outcome: ImportOutcome;
  changes: FieldChange[];
  /** why it is refused; empty where it is not */
  refusals: ImportRemark[];
  /** what a person should know of it, and may still take in */
  told: ImportRemark[];
  /** fields whose cells cannot be read: they are said, whatever they say */
  readonly unread: Set<string>;
  /** it takes the place of `existing`, whose period ends */
  isExchange: boolean;
  /** of a component: the type that its name stands for */
  typeId: string | null;
  /** of a signal: the component that is there at the designation that it names; one of the same file is among its parents */
  componentId: string | null;
  /** columns that other records of the file give it */
  further: Readonly<Record<string, unknown>>;
  /** made for a record that is new */
  id: string | null;
}

export interface PlannedRow {
  sheet: string;
  row: number;
  remarks: ImportRemark[];
  /** cells that took over what stands above them */
  filled: readonly string[];
  recs: Rec[];
}

/** Names that differ in case or spaces alone are one. */
export const fold = (text: string): string => text.trim().replaceAll(/\s+/g, ' ').toLowerCase().normalize('NFC');

export const remark = (
  code: string,
  params: Record<string, string | number> = {},
  at: { cell?: string | null; field?: string | null } = {},
): ImportRemark => ({ code, params, cell: at.cell ?? null, field: at.field ?? null });

const isQuantity = (value: Value): value is QuantityValue =>
  typeof value === 'object' && !Array.isArray(value) && 'si' in value;

const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b));

/** The same thing said: a quantity is what it is in any unit. Empty text and nothing are one. */
export function isSame(a: Value | null, b: Value | null): boolean {
  const [left, right] = [a === '' ? null : a, b === '' ? null : b];
  if (left === null || right === null) return left === right;
  if (typeof left === 'number' && typeof right === 'number') return near(left, right);
  if (Array.isArray(left) && Array.isArray(right)) {
    return left.length === right.length && left.every((one) => right.includes(one as string));
  }
  if (isQuantity(left) && isQuantity(right)) return near(left.si, right.si);
  return left === right;
}

/** A value as a list shows it. */
export function display(value: Value | null): string {
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (isQuantity(value)) return `${value.value.toFixed(value.digits)} ${toUnitSymbol(value.unit)}`.trim();
  if (Array.isArray(value)) return value.join(', ');
  return String(value);
}

/** Digits enough to find a slip of a factor, or of a unit. */
const CONVERTED_DIGITS = 4;

/** A quantity in the unit in which its kind is shown; nothing where it was read in that one. */
export function convert(key: string, value: Value | null): string {
  const kind = importField(key)?.kind;
  if (value === null || kind === undefined || !isQuantity(value)) return '';
  const shown = getKindInfo(kind).displayUnits[0];
  if (shown === undefined || shown.unit === value.unit) return '';
  return `${Number(fromSi(value.si, shown.unit, kind).toPrecision(CONVERTED_DIGITS))} ${shown.symbol}`.trim();
}

/** The id of a record, old or new; null before a new one has been given its own. */
export const idOf = (rec: Rec | undefined): string | null => rec?.existing?.id ?? rec?.id ?? null;
