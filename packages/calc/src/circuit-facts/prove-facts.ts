import { proveCircuit, type CircuitProofInput } from '../circuit-checks/prove-circuit.js';
import type { PressureLadderResult } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts, ComponentFacts, ReadingFacts } from './circuit-facts.types.js';
import { toControlWiring, toInterlock } from './control-input.js';
import { figureOf, mayBeIn, refOf } from './component-figures.js';
import { leastWorkingOf, toPressureLadderInput } from './pressure-ladder-input.js';
import { toMovementInput } from './movement-input.js';
import { asItStands, isAsRead } from './reading-conditions.js';

/**
 * Lowest pressure while a neighbour clamps, with the lowest air: at a given flow an air-driven pump's pressure goes with its stall, and its
 * stall with the air. Where the lowest is not known the check asks for it.
 */
function toLowestShared(
  { powerUnit }: CircuitFacts,
  { lowestWhileSharedPa, airPressurePa }: ReadingFacts,
): number | null {
  const { drive, plantAirLowPa } = powerUnit;
  if (lowestWhileSharedPa === null || drive !== 'air' || plantAirLowPa === null || !airPressurePa)
    return lowestWhileSharedPa;
  return lowestWhileSharedPa * Math.min(1, plantAirLowPa / airPressurePa);
}

/** It may be upon the clamp line, and gives way with its oil. */
const isStoring = (component: ComponentFacts): boolean =>
  component.kind === 'accumulator' && component.place === 'circuit' && mayBeIn(component, 'clamp');

/** The input of the checks, derived from what is recorded; that of the pressure ladder may be there already. */
export function toProofInput(
  recorded: CircuitFacts,
  pressureLadder = toPressureLadderInput(recorded),
): CircuitProofInput {
  const facts = asItStands(recorded);
  const { circuit, components, neighbours, control, marginsAsked } = facts;
  const { readings } = facts.settings;
  return {
    pressureLadder,
    sharedSupply: {
      others: neighbours.map(({ id, name, isFixtureAsRead = true }) => ({
        ref: { entity: 'circuit', id, name },
        // As this circuit's own readings: with the fixtures that were on both stations.
        lowestPressurePa:
          readings !== null && isAsRead(facts) && isFixtureAsRead === true ? toLowestShared(facts, readings) : null,
      })),
    },
    withoutSupply: {
      isDecoupled: circuit.isDecoupled,
      timeWithoutS: circuit.timeWithoutSupplyS,
      coolingK: circuit.coolingWithoutSupplyK,
      isProvedAgain: circuit.isProvedAgain,
      stores: components.filter(isStoring).map((component) => ({
        ref: refOf(component),
        sizeM3: figureOf(component, 'size'),
        prechargePa: leastWorkingOf(component, facts),
      })),
    },
    ...toMovementInput(facts),
    controlWiring: toControlWiring(facts),
    interlock: toInterlock(control, circuit.id),
    marginsAsked,
  };
}

/**
 * The proof of a circuit from what is recorded of it.
 * What is not known is never replaced: the check is then `unproven` and says what is missing. Never throws.
 */
export const proveFacts = (facts: CircuitFacts): PressureLadderResult => proveCircuit(toProofInput(facts));
