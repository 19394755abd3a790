import type { FigureRef } from '@repo/calc';
import type { ComponentFacts } from './ladder-facts.repository.js';

/** A figure of a component, its own before its type's [SI]; null: not known, or no such component. */
export const figureOf = (component: ComponentFacts | undefined, name: string): number | null =>
  component === undefined ? null : (component.figures[name]?.si ?? component.typeFigures[name]?.si ?? null);

export const refOf = ({ id, designation, name }: ComponentFacts): FigureRef => ({
  entity: 'installed-component',
  id,
  name: `${designation} ${name}`,
});
