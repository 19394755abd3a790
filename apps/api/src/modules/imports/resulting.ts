import type { ValueOf } from './derived-columns.js';
import type { Rec } from './plan-model.js';

/** What a record is found by: however a file spells it, the record keeps its own spelling. */
const FOUND_BY = new Set(['name', 'designation', 'code', 'number']);

/** The values of a record afterwards: what the file says, else what is there. */
export const resultingOf =
  (rec: Rec): ValueOf =>
  (field) =>
    (FOUND_BY.has(field) ? rec.existing?.values[field] : null) ??
    rec.values.get(field)?.value ??
    rec.existing?.values[field] ??
    null;
