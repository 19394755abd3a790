import type { CircuitFacts, ComponentFacts, LineFunction } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { COMPONENTS, READINGS, SETTINGS } from './facts-builder.js';
import { riseBehind } from './proof/plain-leak-behind.js';
import { opposingAreas } from './proof/plain-pressures.js';

export const checkOf = (facts: CircuitFacts, code: string) =>
  proveFacts(facts).checks.find((check) => check.code === code);
export const without = (kind: ComponentFacts['kind']) => COMPONENTS.filter((component) => component.kind !== kind);
export const withFigures = (kind: ComponentFacts['kind'], figures: Record<string, number>) =>
  COMPONENTS.map((component) =>
    component.kind === kind ? { ...component, figures: { ...component.figures, ...figures } } : component,
  );

/** How many times what the clamp line loses by a leak counts, with what works against the clamps from the shut unclamp line: worked out a second time. */
export const leakShareOf = (facts: CircuitFacts): number =>
  1 + Number(riseBehind(facts, null)) * opposingAreas(facts).atLeast;

/** Read with oil at work, by a gauge without an error: nothing leaked. */
export const TIGHT = {
  inUse: SETTINGS,
  isAsLeft: true,
  readings: { ...READINGS, oilTemperatureK: 313.15, decayPa: 0, gaugeClass: 0 },
};

/** A component of the circuit itself beside those that it has, rated above all that is tried. */
export const part = (
  kind: ComponentFacts['kind'],
  lineFunctions: LineFunction[],
  figures: Record<string, number>,
): ComponentFacts => ({
  ...{ id: `extra ${kind}`, name: `Extra ${kind}`, place: 'circuit', kind, lineFunctions, sensing: null },
  figures: { ratedPressure: 400e5, ...figures },
});
