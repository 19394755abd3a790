import type { ReadComponentFigureName } from '../figures/component-figures.js';
import type { FigureRef } from '../pressure-ladder/pressure-ladder.types.js';
import type { ComponentFacts, ComponentKind, FixtureElementFacts, LineFunction } from './circuit-facts.types.js';

/** Kinds that move. */
export const CYLINDERS: ReadonlySet<ComponentKind> = new Set([
  'swing-clamp',
  'lever-clamp',
  'cylinder',
  'work-support',
]);

/** Kinds that see no pressure, or none to speak of. */
export const WITHOUT_PRESSURE: ReadonlySet<ComponentKind> = new Set(['reservoir', 'relay', 'power-supply']);

/** Whether it sees the oil's pressure: a pressure regulator sees air, unless somebody has put it in a line of the oil. */
export const seesPressure = ({ kind, lineFunctions }: ComponentFacts): boolean =>
  !WITHOUT_PRESSURE.has(kind) && (kind !== 'pressure-regulator' || lineFunctions.length > 0);

/** Whether it may be in a line: as somebody has said; of what nobody has spoken of it may be in any. */
export const mayBeIn = ({ lineFunctions }: Pick<ComponentFacts, 'lineFunctions'>, line: LineFunction): boolean =>
  lineFunctions.length === 0 || lineFunctions.includes(line);

/** A figure of a component [SI]; null: not known, or no such component. */
export const figureOf = (component: ComponentFacts | undefined, name: ReadComponentFigureName): number | null =>
  component?.figures[name] ?? null;

export const refOf = ({ id, name }: ComponentFacts): FigureRef => ({ entity: 'installed-component', id, name });

/** Gauges that show what the clamps are set to: those of the circuit, else of its power unit; none of the unclamp line or the tank line. */
export function listSettingGauges(components: readonly ComponentFacts[]): readonly ComponentFacts[] {
  const gauges = components.filter((one) => one.kind === 'gauge' && (mayBeIn(one, 'supply') || mayBeIn(one, 'clamp')));
  const ofCircuit = gauges.filter(({ place }) => place === 'circuit');
  // Where one of them sits nobody has said: it may be the power unit's that is read.
  const isPlaced = ofCircuit.some(({ lineFunctions }) => lineFunctions.length > 0);
  return isPlaced ? ofCircuit : gauges;
}

/** Those of a kind: of the circuit itself, else of its power unit. */
export function listOfKind(components: readonly ComponentFacts[], kind: ComponentKind): readonly ComponentFacts[] {
  const all = components.filter((component) => component.kind === kind);
  const ofCircuit = all.filter(({ place }) => place === 'circuit');
  return ofCircuit.length > 0 ? ofCircuit : all;
}

/** The component of a kind; of several, with that in which they are all alike: which of them counts nobody has said. */
export function findOfKind(components: readonly ComponentFacts[], kind: ComponentKind): ComponentFacts | undefined {
  const [first, ...others] = listOfKind(components, kind);
  if (first === undefined || others.length === 0) return first;
  const figures = Object.entries(first.figures).filter(([name, figure]) =>
    others.every((other) => other.figures[name] === figure),
  );
  const sensing = others.every((other) => other.sensing === first.sensing) ? first.sensing : null;
  return { ...first, figures: Object.fromEntries(figures), sensing };
}

/** Whether an element clamps by its rod side: as somebody has said, else as swing clamps do; null: nobody has said what clamp it is. */
export function pullsOf({ kind, form, pulls: asSaid }: FixtureElementFacts): boolean | null {
  if (kind !== 'clamp') return false;
  return asSaid ?? (form === null ? null : form === 'swing-clamp');
}

/** A component that pulls: a swing clamp, and a cylinder of which it is said. */
export const pulls = (component: ComponentFacts): boolean =>
  component.kind === 'swing-clamp' || (figureOf(component, 'clampsOnRodSide') ?? 0) > 0;
