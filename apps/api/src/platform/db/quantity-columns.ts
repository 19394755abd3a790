import type { QuantityKind } from '@repo/quantity';
import { toSiOf, type WireQuantity } from '@repo/contracts';
import { Prisma } from './generated/client.js';
import { json } from './json.js';

type Entered = Prisma.InputJsonValue | typeof Prisma.DbNull;

/**
 * The two columns that a typed quantity becomes: SI and what was entered.
 * `undefined` (not part of the change) gives no columns at all.
 */
export function quantityColumns<Si extends string, E extends string>(
  si: Si,
  entered: E,
  kind: QuantityKind,
  quantity: WireQuantity | null | undefined,
): Partial<Record<Si, number | null> & Record<E, Entered>> {
  if (quantity === undefined) return {};
  const columns =
    quantity === null
      ? { [si]: null, [entered]: Prisma.DbNull }
      : { [si]: toSiOf(quantity, kind), [entered]: json(quantity) };
  return columns as Partial<Record<Si, number | null> & Record<E, Entered>>;
}
