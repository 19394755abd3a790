import type { ComponentFigure } from './component-figures.js';
import {
  SI_ENDINGS,
  type ControlFactsOf,
  type Direction,
  type FactsOf,
  type Figure,
  type Figures,
} from './figure.types.js';

/**
 * Something made of each figure of a table, by name. The compiler cannot follow a table through a loop, so this is the one place where
 * it is told what comes out; tests compare what is told with what comes out, figure by figure.
 */
export function fromFigures<Made>(
  figures: Figures,
  toEntries: (name: string, figure: Figure) => readonly (readonly [string, unknown])[],
): Made {
  return Object.fromEntries(Object.entries(figures).flatMap(([name, figure]) => toEntries(name, figure))) as Made;
}

/** Figure -> what is made of it. */
export const mapFigures = <Made>(figures: Figures, make: (figure: Figure, name: string) => unknown): Made =>
  fromFigures<Made>(figures, (name, figure) => [[name, make(figure, name)]]);

/** The name of a figure's value in SI. */
export const factNameOf = (name: string, figure: Figure): string =>
  figure.type === 'quantity' ? `${name}${SI_ENDINGS[figure.kind]}` : name;

/** `ratedPressure` -> "rated pressure". */
export const toWords = (name: string): string => name.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);

/** Figures that lie below what they cannot be below, or not above what they must lie above, each with the other one. */
export const listTooLow = (
  figures: Readonly<Record<string, Figure | ComponentFigure>>,
  siOf: (name: string) => number | null,
): { figure: string; other: string; mayEqual: boolean }[] =>
  Object.entries(figures).flatMap(([figure, entry]) => {
    const above = 'above' in entry ? entry.above : undefined;
    const other = entry.notBelow ?? above;
    if (other === undefined) return [];
    const [value, least, mayEqual] = [siOf(figure), siOf(other), above === undefined];
    if (value === null || least === null || value > least || (mayEqual && value === least)) return [];
    return [{ figure, other, mayEqual }];
  });

/** What stands for a figure of which nobody has said anything. */
export const unsaidOf = (figure: Figure): false | null =>
  figure.type === 'answer' && figure.isAlwaysSaid === true ? false : null;

/** The names of all that proofs read, of the record itself or through the control. */
export const listFactNames = (figures: Figures): string[] =>
  Object.entries(figures).flatMap(([name, figure]) => (figure.worse === undefined ? [] : [factNameOf(name, figure)]));

function pick<Facts extends object>(figures: Figures, stored: Partial<Facts>, isMeant: (figure: Figure) => boolean) {
  const values = new Map<string, unknown>(Object.entries(stored));
  return fromFigures<Facts>(figures, (name, figure) => {
    const fact = factNameOf(name, figure);
    return isMeant(figure) ? [[fact, values.get(fact) ?? unsaidOf(figure)]] : [];
  });
}

/** What its own proof reads of a record, from whatever holds it; what is not there nobody has said. */
export const pickFacts = <T extends Figures>(figures: T, stored: Partial<FactsOf<T>>): FactsOf<T> =>
  pick<FactsOf<T>>(figures, stored, ({ worse, seenByControl }) => worse !== undefined && seenByControl !== 'alone');

/** What the control reads of a record. */
export const pickControlFacts = <T extends Figures>(
  figures: T,
  stored: Partial<ControlFactsOf<T>>,
): ControlFactsOf<T> => pick<ControlFactsOf<T>>(figures, stored, ({ seenByControl }) => seenByControl !== undefined);

/** Which way each fact of a record can only make its proof worse; of an element by the element's kind. */
export const directionsOf = (figures: Figures, kind = ''): Readonly<Record<string, Direction>> =>
  fromFigures(figures, (name, figure) => {
    const { worse } = figure;
    const way = typeof worse === 'object' ? worse[kind] : worse;
    return way === undefined ? [] : [[factNameOf(name, figure), way]];
  });
