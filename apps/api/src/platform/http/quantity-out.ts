import type { WireQuantity } from '@repo/contracts';

/** A quantity as it was entered, from its stored form; null where there is none. */
export function quantityFrom(entered: unknown): WireQuantity | null {
  if (typeof entered !== 'object' || entered === null) return null;
  const { value, unit, digits } = entered as WireQuantity;
  return digits === undefined ? { value, unit } : { value, unit, digits };
}

export const isoOrNull = (date: Date | null): string | null => date?.toISOString() ?? null;
/** A calendar day, as the date columns give it. */
export const dayOrNull = (date: Date | null): string | null => date?.toISOString().slice(0, 10) ?? null;
