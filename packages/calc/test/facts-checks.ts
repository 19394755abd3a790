import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { COMPONENTS } from './facts-builder.js';

export const checkOf = (facts: CircuitFacts, code: string) =>
  proveFacts(facts).checks.find((check) => check.code === code);
export const without = (kind: ComponentFacts['kind']) => COMPONENTS.filter((component) => component.kind !== kind);
export const withFigures = (kind: ComponentFacts['kind'], figures: Record<string, number>) =>
  COMPONENTS.map((component) =>
    component.kind === kind ? { ...component, figures: { ...component.figures, ...figures } } : component,
  );

/** A component of the circuit itself beside those that it has, rated above all that is tried. */
export const part = (
  kind: ComponentFacts['kind'],
  lineFunctions: LineFunction[],
  figures: Record<string, number>,
): ComponentFacts => ({
  ...{ id: `extra ${kind}`, name: `Extra ${kind}`, place: 'circuit', kind, lineFunctions, sensing: null },
  figures: { ratedPressure: 400e5, ...figures },
});
