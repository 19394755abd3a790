import { figureKindOf, toSiOf, type ComponentKind, type FigureIn } from '@repo/contracts';
import { componentFigures, type StoredFigures } from '../../documents/component-figures.js';

/** Figures as they are kept: what was typed, its source, and the SI value beside. */
export function toStoredFigures(figures: Record<string, FigureIn>, kind: ComponentKind): StoredFigures {
  const stored = Object.fromEntries(
    Object.entries(figures).map(([name, figure]) => {
      const figureKind = figureKindOf(kind, name);
      const si = figureKind === undefined || figureKind === 'ratio' ? figure.value : toSiOf(figure, figureKind);
      return [name, { ...figure, si }];
    }),
  );
  return componentFigures.write(stored);
}

/** Figures as they leave: without the SI value, which the reader makes from the unit. */
export function fromStoredFigures(stored: unknown, whose: string): Record<string, FigureIn> {
  return Object.fromEntries(
    Object.entries(componentFigures.read(stored, whose)).map(([name, { value, unit, digits, source }]) => [
      name,
      digits === undefined ? { value, unit, source } : { value, unit, digits, source },
    ]),
  );
}
