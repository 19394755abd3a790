import {
  factNameOf,
  fromFigures,
  listFactNames,
  type FactName,
  type FactValue,
  type Figures,
} from '@repo/calc/figures';
import { toSiOf, type WireQuantity } from '@repo/contracts';
import { Prisma } from './generated/client.js';
import { json } from './json.js';

type Quantity = { type: 'quantity' };
/** What a request says of figures, or leaves out. */
type SaidOf<T> = {
  [N in keyof T]?: T[N] extends Quantity ? WireQuantity | null | undefined : FactValue<T[N]> | undefined;
};
type SiColumns<T> = {
  [N in keyof T & string as T[N] extends Quantity ? FactName<N, T[N]> : never]?: number | null;
};
type EnteredColumns<T> = {
  [N in keyof T & string as T[N] extends Quantity ? `${N}Entered` : never]?:
    Prisma.InputJsonValue | typeof Prisma.DbNull;
};
type PlainColumns<T> = { [N in keyof T as T[N] extends Quantity ? never : N]?: FactValue<T[N]> };
/** The columns that figures become: of a quantity its SI value and what was entered, of anything else one. */
export type FigureColumns<T> = SiColumns<T> & EnteredColumns<T> & PlainColumns<T>;

/** The columns of what a request says of figures; what is no part of it gives no columns. */
function toColumns<T extends Figures>(figures: T, request: SaidOf<T>): FigureColumns<T> {
  const values = new Map<string, unknown>(Object.entries(request));
  return fromFigures<FigureColumns<T>>(figures, (name, figure) => {
    const value = values.get(name);
    if (value === undefined) return [];
    if (figure.type !== 'quantity') return [[name, value]];
    const quantity = value as WireQuantity | null;
    return [
      [factNameOf(name, figure), quantity === null ? null : toSiOf(quantity, figure.kind)],
      [`${name}Entered`, quantity === null ? Prisma.DbNull : json(quantity)],
    ];
  });
}

/** A request's figures as columns, and everything else of it that was given. */
export function splitFigures<T extends Figures, Body extends SaidOf<T>>(
  figures: T,
  body: Body,
): { columns: FigureColumns<T>; rest: Omit<Body, keyof T> } {
  const rest = Object.entries(body).filter(([name, value]) => !Object.hasOwn(figures, name) && value !== undefined);
  return { columns: toColumns(figures, body), rest: Object.fromEntries(rest) as Omit<Body, keyof T> };
}

const snake = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** The columns of all figures that proofs read, under their names in SI. */
export const selectFacts = (figures: Figures): Prisma.Sql =>
  Prisma.raw(
    listFactNames(figures)
      .map((name) => `${snake(name)} AS "${name}"`)
      .join(', '),
  );
