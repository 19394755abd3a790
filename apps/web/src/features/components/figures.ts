import type { ComponentFigureName } from '@repo/calc/figures';
import { COMPONENT_FIGURES, figureKindOf, type ComponentKind } from '@repo/contracts';
import type { QuantityKind } from '@repo/quantity';
import type { Translate } from '@/lib/i18n/i18n';

/** Kind of a figure; a plain number is a ratio. */
export const toFigureKind = (kind: ComponentKind, figure: ComponentFigureName): QuantityKind =>
  figureKindOf(kind, figure) ?? 'ratio';

/** The figures that a kind of component may have. */
export const listFigures = (kind: ComponentKind): readonly ComponentFigureName[] =>
  Object.keys(COMPONENT_FIGURES[kind]) as ComponentFigureName[];

/** Those that are said of a component, in the order of its kind. */
export const listSaid = <F>(kind: ComponentKind, figures: Readonly<Record<string, F>>): [ComponentFigureName, F][] =>
  listFigures(kind).flatMap((name): [ComponentFigureName, F][] => {
    const figure = figures[name];
    return figure === undefined ? [] : [[name, figure]];
  });

/** `ratedPressure` → "Rated pressure". A figure without its word does not compile. */
export const nameFigure = (name: ComponentFigureName, t: Translate): string => t(`componentFigure.${name}`);
