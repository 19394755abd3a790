import { doubtOfFigure, type Say } from '@/lib/quantity/figure-doubts';
import type { EnteredQuantity } from '@/lib/quantity/format';
import { usualOfRecord } from '@/lib/quantity/usual-figures';
import type { FieldDefs } from './field-def';

const toQuantity = (record: object | null, name: string): EnteredQuantity | null =>
  ((record as Readonly<{ [name: string]: unknown }> | null)?.[name] ?? null) as EnteredQuantity | null;

/**
 * What is worth asking about the quantities of a form before they are saved: nothing here refuses them.
 * @param before what was saved before; null: it is new
 */
export const listFieldDoubts = (
  fields: FieldDefs,
  values: object,
  before: object | null,
  pageUnit: string,
  t: Say,
): string[] =>
  Object.entries(fields).flatMap(([name, { label, kind }]) => {
    const value = kind === undefined ? null : toQuantity(values, name);
    if (kind === undefined || value === null) return [];
    const former = toQuantity(before, name);
    return (
      doubtOfFigure({ label: t(label), kind, value, former, rating: null, usual: usualOfRecord(label) }, pageUnit, t) ??
      []
    );
  });
