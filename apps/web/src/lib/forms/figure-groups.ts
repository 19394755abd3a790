import { mapFigures, unsaidOf, type Figure, type Figures } from '@repo/calc/figures';
import type { FieldGroup } from './form-fields';

type BlankOf<T> = { [N in keyof T]: T[N] extends { isAlwaysSaid: true } ? false : null };

/** What a form begins with before anything is said. */
export const blankFigures = <T extends Figures>(figures: T): BlankOf<T> => mapFigures<BlankOf<T>>(figures, unsaidOf);

/** Of what stands in a form the figures of one table. */
export function pickFigures<T extends Figures, V extends { [N in keyof T]: unknown }>(
  figures: T,
  values: V,
): Pick<V, keyof T & keyof V> {
  const all = new Map<string, unknown>(Object.entries(values));
  return mapFigures<Pick<V, keyof T & keyof V>>(figures, (_figure, name) => all.get(name));
}

type GroupOf<T extends Figures> = T[keyof T]['field']['group'];
const PLACES = ['first', undefined, 'last'];

/** The figures of one group of a form, in the order in which it asks for them. */
export function listGroup<T extends Figures>(figures: T, group: GroupOf<T>): (keyof T & string)[] {
  const names = Object.keys(figures) as (keyof T & string)[];
  return PLACES.flatMap((place) =>
    names.filter((name) => {
      const { field } = figures[name] as Figure;
      return field.group === group && field.place === place;
    }),
  );
}

/** A group of figures with the other fields that stand in it before and after them. */
interface Around extends Omit<FieldGroup<string>, 'fields'> {
  before?: readonly string[];
  after?: readonly string[];
}
type Beside<A> =
  (A extends { before: readonly (infer B)[] } ? B : never) | (A extends { after: readonly (infer B)[] } ? B : never);

/** The groups of a form, in the order given; the compiler misses none that a figure is in. */
export function groupFigures<T extends Figures, const G extends Readonly<Record<GroupOf<T>, Around>>>(
  figures: T,
  groups: G,
): FieldGroup<(keyof T & string) | Beside<G[keyof G]>>[] {
  const all = Object.entries<Around>(groups).map(([group, { before = [], after = [], ...rest }]) => ({
    ...rest,
    fields: [...before, ...listGroup(figures, group), ...after],
  }));
  return all as FieldGroup<(keyof T & string) | Beside<G[keyof G]>>[];
}
