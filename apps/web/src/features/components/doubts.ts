import { COMPONENT_FIGURES, type ComponentFigure, type ComponentFigureName } from '@repo/calc/figures';
import type { ComponentKind } from '@repo/contracts';
import { doubtOfFigure, type Say } from '@/lib/quantity/figure-doubts';
import type { EnteredQuantity } from '@/lib/quantity/format';
import { usualOfComponent } from '@/lib/quantity/usual-figures';
import { listSaid, toFigureKind } from './figures';

type Figures = Readonly<Record<string, EnteredQuantity>>;

/** Pressures that lie above the rating by their nature, beside the rating itself and what its entry says is above it. */
const MAY_EXCEED_RATING: readonly ComponentFigureName[] = ['ratedPressure', 'span'];
const mayExceedRating = (kind: ComponentKind, name: ComponentFigureName): boolean => {
  const figures: Readonly<Partial<Record<ComponentFigureName, ComponentFigure>>> = COMPONENT_FIGURES[kind];
  return MAY_EXCEED_RATING.includes(name) || figures[name]?.above === 'ratedPressure';
};

/** What is worth asking about the figures of a component type before they are saved: nothing here refuses them. */
export function listFigureDoubts(
  { kind, name: typeName }: { kind: ComponentKind; name: string },
  figures: Figures,
  former: Figures,
  pageUnit: string,
  t: Say,
): string[] {
  const rated = figures['ratedPressure'];
  return listSaid(kind, figures).flatMap(([name, value]) => {
    const figureKind = toFigureKind(kind, name);
    const isRated = figureKind === 'pressure' && rated !== undefined && !mayExceedRating(kind, name);
    const doubt = doubtOfFigure(
      {
        label: t(`componentFigure.${name}`),
        kind: figureKind,
        value,
        former: former[name] ?? null,
        rating: isRated ? { name: typeName, quantity: rated } : null,
        usual: usualOfComponent(kind, name),
      },
      pageUnit,
      t,
    );
    return doubt ?? [];
  });
}
