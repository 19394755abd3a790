import type { ValueOf } from './derived-columns.js';
import { IDENTITY } from './identity.js';
import type { Rec } from './plan-model.js';

/** The values of a record afterwards: what the file says, else what is there. However a file spells its name, it keeps its own spelling. */
export const resultingOf =
  (rec: Rec): ValueOf =>
  (field) =>
    (field === IDENTITY[rec.entity].by ? rec.existing?.values[field] : null) ??
    rec.values.get(field)?.value ??
    rec.existing?.values[field] ??
    null;
