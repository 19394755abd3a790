import { figureKindOf, toSiOf, type ComponentKind, type FigureIn } from '@repo/contracts';

export type StoredFigures = Record<string, FigureIn & { si: number }>;

/** Figures as they are kept: what was typed, its source, and the SI value beside. */
export function toStoredFigures(figures: Record<string, FigureIn>, kind: ComponentKind): StoredFigures {
  return Object.fromEntries(
    Object.entries(figures).map(([name, figure]) => {
      const figureKind = figureKindOf(kind, name);
      const si = figureKind === undefined || figureKind === 'ratio' ? figure.value : toSiOf(figure, figureKind);
      return [name, { ...figure, si }];
    }),
  );
}

/** Figures as they leave: without the SI value, which the reader makes from the unit. */
export function fromStoredFigures(stored: unknown): Record<string, FigureIn> {
  return Object.fromEntries(
    Object.entries(stored as StoredFigures).map(([name, { value, unit, digits, source }]) => [
      name,
      digits === undefined ? { value, unit, source } : { value, unit, digits, source },
    ]),
  );
}
