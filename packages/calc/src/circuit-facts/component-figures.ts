import type { ReadComponentFigureName } from '../figures/component-figures.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts, ComponentFacts, ComponentKind } from './circuit-facts.types.js';

/** Kinds that move. */
export const CYLINDERS: ReadonlySet<ComponentKind> = new Set([
  'swing-clamp',
  'lever-clamp',
  'cylinder',
  'work-support',
]);

/** A figure of a component [SI]; null: not known, or no such component. */
export const figureOf = (component: ComponentFacts | undefined, name: ReadComponentFigureName): number | null =>
  component?.figures[name] ?? null;

export const refOf = ({ id, name }: ComponentFacts): FigureRef => ({ entity: 'installed-component', id, name });

/** What was read is what stands: same setting, same air, same fixture. A leak, a time and a neighbour's pull are of these. */
export function isAsRead({ fixture, settings: { inUse, readings } }: CircuitFacts): boolean {
  return (
    readings !== null &&
    readings.settingPa !== null &&
    readings.settingPa === inUse?.settingPa &&
    readings.airPressurePa === inUse.airPressurePa &&
    readings.fixtureId === (fixture?.id ?? null)
  );
}

/** The first component of a kind: of the circuit itself before that of its power unit. */
export const findOfKind = (components: readonly ComponentFacts[], kind: ComponentKind): ComponentFacts | undefined =>
  components.find((component) => component.kind === kind && component.place === 'circuit') ??
  components.find((component) => component.kind === kind);
