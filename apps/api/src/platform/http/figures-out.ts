import { mapFigures, type FactName, type FactValue, type Figures } from '@repo/calc/figures';
import type { WireQuantity } from '@repo/contracts';
import { quantityFrom } from './quantity-out.js';

type Quantity = { type: 'quantity' };
type Stored<F> = F extends { type: 'choice' } ? string | null : FactValue<F>;
/** What a row must hold of figures: the compiler then misses no column. */
type FigureRow<T> = {
  [N in keyof T & string as T[N] extends Quantity ? `${N}Entered` : N]: T[N] extends Quantity ? unknown : Stored<T[N]>;
} & { [N in keyof T & string as FactName<N, T[N]>]: Stored<T[N]> };
/** Figures as they cross the wire: a quantity as it was entered. */
export type FiguresOut<T> = { [N in keyof T]: T[N] extends Quantity ? WireQuantity | null : FactValue<T[N]> };

/** The figures of a row. What stands in a column of choices is one of them: the contract that let it in said so. */
export function figuresFrom<T extends Figures>(figures: T, row: FigureRow<T>): FiguresOut<T> {
  const values = new Map<string, unknown>(Object.entries(row));
  return mapFigures<FiguresOut<T>>(figures, ({ type }, name) =>
    type === 'quantity' ? quantityFrom(values.get(`${name}Entered`)) : values.get(name),
  );
}
