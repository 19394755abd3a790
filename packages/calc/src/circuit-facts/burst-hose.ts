import { isPositive, sumOf, toArea } from '../circuit-checks/figures.js';
import type { BurstFigures } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts, ComponentFacts } from './circuit-facts.types.js';
import { CYLINDERS, figureOf, findOfKind, pulls, pullsOf, refOf } from './component-figures.js';
import { toPieces } from './line-input.js';
import { emptiesClamps } from './shut-off.js';

/** A stroke's oil at contact [m3]; of what may pull the annulus counts. What is not known counts as nothing: the pressure then falls faster. */
function toStroke(boreM: number | null, rodM: number | null, strokeM: number | null, mayPull: boolean): number {
  const annulus = toArea(boreM ?? 0) - toArea(mayPull ? (rodM ?? boreM ?? 0) : 0);
  return Math.max(0, annulus * (strokeM ?? 0));
}

/** What the oil between valve and clamps gives way by for each pascal [m3/Pa]: oil and hoses, without air, which would only slow the fall. */
function toCompliance({ components, fixture, powerUnit }: CircuitFacts): number | null {
  const modulusPa = powerUnit.oilBulkModulusPa;
  if (modulusPa === null || !isPositive(modulusPa)) return null;
  const line = toPieces(components, 'clamp').map(({ lengthM, innerDiameterM, expansionModulusPa }) => ({
    volumeM3: toArea(innerDiameterM ?? 0) * (lengthM ?? 0),
    widening: expansionModulusPa !== null && expansionModulusPa > 0 ? 1 / expansionModulusPa : 0,
  }));
  const ofFixture = sumOf(fixture?.elements ?? [], (element) =>
    element.kind === 'locator'
      ? 0
      : element.quantity * toStroke(element.boreM, element.rodM, element.strokeM, pullsOf(element) !== false),
  );
  const ownCylinders = components.filter(({ kind, place }) => CYLINDERS.has(kind) && place === 'circuit');
  const ofCircuit = sumOf(ownCylinders, (component) =>
    toStroke(figureOf(component, 'bore'), figureOf(component, 'rod'), figureOf(component, 'stroke'), pulls(component)),
  );
  const volume = sumOf(line, ({ volumeM3 }) => volumeM3) + ofFixture + ofCircuit;
  return volume / modulusPa + sumOf(line, ({ volumeM3, widening }) => volumeM3 * widening);
}

/** Of hoses whose flow is typed the one with most; else the first. */
function findWorst(hoses: readonly ComponentFacts[]): ComponentFacts | undefined {
  const flowOf = (hose: ComponentFacts): number => figureOf(hose, 'burstFlow') ?? -1;
  return hoses.reduce<ComponentFacts | undefined>(
    (worst, hose) => (worst === undefined || flowOf(hose) > flowOf(worst) ? hose : worst),
    undefined,
  );
}

/**
 * The hose whose burst surely lets the clamps go, or one of those of which nobody has said; null: there is none. It lets out the flow that is typed
 * of it, else what the pump gives.
 */
export function findBurst(facts: CircuitFacts, isSure: boolean): BurstFigures | null {
  const { components } = facts;
  const empties = isSure ? true : null;
  const hose = findWorst(components.filter((one) => one.kind === 'hose' && emptiesClamps(one, facts) === empties));
  if (hose === undefined) return null;
  const typed = figureOf(hose, 'burstFlow');
  const flow = typed ?? figureOf(findOfKind(components, 'pump'), 'freeFlow');
  const compliance = toCompliance(facts);
  return {
    ref: refOf(hose),
    ratePaPerS: flow === null || compliance === null || compliance === 0 ? null : flow / compliance,
    mustHold: typed !== null,
  };
}
