import { COMPONENT_FIGURES, ELEMENT_FIGURES, type ComponentFigureName } from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import type { Usual } from './figure-doubts';

type Tables = Readonly<
  Record<
    string,
    { readonly kind?: unknown; readonly type?: unknown; readonly usual?: readonly [number, number, string] }
  >
>;

const toUsual = (name: string, table: Tables): Usual | null => {
  const [low, high, unit] = table[name]?.usual ?? [];
  return low === undefined || high === undefined || unit === undefined ? null : { low, high, unit };
};

/** Between what a figure of a component usually lies; null: nobody can say. */
export const usualOfComponent = (kind: ComponentKind, name: ComponentFigureName): Usual | null =>
  toUsual(name, COMPONENT_FIGURES[kind]);

/** Of an element of a fixture, as of a component of that sort. */
export function usualOfElement(name: string): Usual | null {
  const ofElements: Tables = ELEMENT_FIGURES;
  const found = toUsual(name, ofElements);
  return Object.values<Tables>(COMPONENT_FIGURES).reduce<Usual | null>(
    (usual, table) => usual ?? toUsual(name, table),
    found,
  );
}
