import { quantityOutSchema, type WireQuantity } from '@repo/contracts';
import { storedDocument } from '../documents/index.js';

/** A quantity as it was entered, beside its value in SI; null: nobody has said. */
export const enteredQuantity = storedDocument<WireQuantity | null>({
  name: 'quantity as it was entered',
  schema: quantityOutSchema.nullable(),
});

/** A quantity as it was entered, from its stored form; null where there is none. */
export const quantityFrom = (entered: unknown): WireQuantity | null => enteredQuantity.read(entered ?? null);

export const isoOrNull = (date: Date | null): string | null => date?.toISOString() ?? null;
/** A calendar day, as the date columns give it. */
export const dayOrNull = (date: Date | null): string | null => date?.toISOString().slice(0, 10) ?? null;
