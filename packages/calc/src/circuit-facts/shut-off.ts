import type { CircuitFacts, ComponentFacts } from './circuit-facts.types.js';

/**
 * Whether something between supply and clamps shuts them off: a check valve, said or fitted, or a valve that springs to the middle. The
 * pump's own outlet check is before the supply line and shuts off nothing. null: nobody has said.
 */
export function isShutOff({ circuit, components, control }: CircuitFacts): boolean | null {
  const valve = control.circuits.find(({ id }) => id === circuit.id)?.valveBehaviour ?? null;
  if (circuit.isCheckHeld === true || hasCheckValve(components) || valve === 'double-centred') return true;
  return circuit.isCheckHeld === null ? null : false;
}

/** A check valve on the way from supply to clamps; one in the tank line or the unclamp line shuts off nothing that holds. */
export function hasCheckValve(components: readonly ComponentFacts[]): boolean {
  const aside: ReadonlySet<string> = new Set(['tank', 'unclamp']);
  return components.some(
    ({ kind, place, lineFunctions }) =>
      kind === 'check-valve' &&
      place === 'circuit' &&
      !(lineFunctions.length > 0 && lineFunctions.every((line) => aside.has(line))),
  );
}

/** A check valve that surely stands on that way; one of which nobody has said where it sits keeps no oil from a burst hose. */
export const hasSureCheckValve = (components: readonly ComponentFacts[]): boolean =>
  hasCheckValve(components.filter(({ lineFunctions }) => lineFunctions.length > 0));
