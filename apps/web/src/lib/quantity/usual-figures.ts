import { COMPONENT_FIGURES, ELEMENT_FIGURES, type ComponentFigureName } from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import type { Usual } from './figure-doubts';

type Table = Readonly<
  Record<
    string,
    { readonly kind?: unknown; readonly type?: unknown; readonly usual?: readonly [number, number, string] }
  >
>;

/** Of the first of some tables that says it; null: none does. */
function findUsual(name: string, ...tables: readonly Table[]): Usual | null {
  for (const table of tables) {
    const usual = table[name]?.usual;
    if (usual !== undefined) return { low: usual[0], high: usual[1], unit: usual[2] };
  }
  return null;
}

/** Between what a figure of a component usually lies; null: nobody can say. */
export const usualOfComponent = (kind: ComponentKind, name: ComponentFigureName): Usual | null =>
  findUsual(name, COMPONENT_FIGURES[kind]);

/** Of an element of a fixture, as of the clamp or the support that it is. */
export const usualOfElement = (name: string): Usual | null =>
  findUsual(name, ELEMENT_FIGURES, COMPONENT_FIGURES['swing-clamp'], COMPONENT_FIGURES['work-support']);
