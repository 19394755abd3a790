import { COMPONENT_FIGURES, type ComponentFigure, type ComponentKind } from '@repo/calc/figures';

export { COMPONENT_FIGURES };
export type { ComponentKind };
export const COMPONENT_KINDS = Object.keys(COMPONENT_FIGURES) as [ComponentKind, ...ComponentKind[]];

export const figuresOf = (kind: ComponentKind): Readonly<Record<string, ComponentFigure>> => COMPONENT_FIGURES[kind];

export const figureOf = (kind: ComponentKind, figure: string): ComponentFigure | undefined => figuresOf(kind)[figure];

/** Kind of one figure of one kind of component, or undefined where there is no such figure. */
export const figureKindOf = (kind: ComponentKind, figure: string): ComponentFigure['kind'] | undefined =>
  figuresOf(kind)[figure]?.kind;
