import { proveCircuit, type CircuitProofInput } from '../circuit-checks/prove-circuit.js';
import type { PressureLadderResult } from '../pressure-ladder/pressure-ladder.types.js';
import type { CircuitFacts } from './circuit-facts.types.js';
import { toControlWiring, toInterlock } from './control-input.js';
import { toPressureLadderInput } from './pressure-ladder-input.js';
import { toMovementInput } from './movement-input.js';
import { asItStands, isAsRead } from './reading-conditions.js';

/** The input of the checks, derived from what is recorded; that of the pressure ladder may be there already. */
export function toProofInput(
  recorded: CircuitFacts,
  pressureLadder = toPressureLadderInput(recorded),
): CircuitProofInput {
  const facts = asItStands(recorded);
  const { circuit, neighbours, control, marginsAsked } = facts;
  const { readings } = facts.settings;
  return {
    pressureLadder,
    sharedSupply: {
      others: neighbours.map(({ id, name, isFixtureAsRead = true }) => ({
        ref: { entity: 'circuit', id, name },
        // As this circuit's own readings: with the fixtures that were on both stations.
        lowestPressurePa:
          readings !== null && isAsRead(facts) && isFixtureAsRead === true ? readings.lowestWhileSharedPa : null,
      })),
    },
    withoutSupply: {
      isDecoupled: circuit.isDecoupled,
      timeWithoutS: circuit.timeWithoutSupplyS,
      coolingK: circuit.coolingWithoutSupplyK,
      isProvedAgain: circuit.isProvedAgain,
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
