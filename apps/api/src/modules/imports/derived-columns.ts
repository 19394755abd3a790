import { CONTROL_BEHAVIOUR_FIELDS } from '@repo/contracts';
import { controlBehaviour } from '../../documents/asked-of-circuits.js';
import type { Value } from './read-value.js';

export type ValueOf = (field: string) => Value | null;
/** Columns as they are stored, by name. */
export type StoredColumns = Readonly<Record<string, unknown>>;

/** A column that holds more than one field, or follows from several. */
export interface DerivedColumn {
  readonly column: string;
  readonly type: 'jsonb' | 'int4';
  /** fields of the table of import fields that lie in it */
  readonly fields: readonly string[];
  /** what lies in it, field by field; a field that nobody has said may be left out */
  readonly read: (stored: unknown, whose: string) => Readonly<Record<string, Value>>;
  /** what is to be stored: what the fields say, and what was there beside them; null: there was no record */
  readonly make: (before: StoredColumns | null, valueOf: ValueOf) => unknown;
}

const BEHAVIOURS = CONTROL_BEHAVIOUR_FIELDS.map(({ name }) => name);

/** What a machine's control does. What is left out was left out: records of a proof hold it as it was said. */
export const BEHAVIOUR_COLUMN: DerivedColumn = {
  column: 'control_behaviour',
  type: 'jsonb',
  fields: BEHAVIOURS,
  read: (stored, whose) =>
    Object.fromEntries(
      Object.entries(controlBehaviour.read(stored, whose)).flatMap(([name, value]) =>
        value === null ? [] : [[name, value]],
      ),
    ),
  make: (before, valueOf) => {
    const rules = BEHAVIOURS.flatMap((name) => {
      const value = valueOf(name);
      return value === null ? [] : [[name, value] as const];
    });
    return { ...(before?.control_behaviour as object | undefined), ...Object.fromEntries(rules) };
  },
};
