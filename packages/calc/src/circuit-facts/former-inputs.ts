import {
  proveCircuit,
  proveSupply,
  type CircuitProofInput,
  type SupplyProofInput,
} from '../circuit-checks/prove-circuit.js';
import type { PartChecksInput } from '../circuit-checks/part-checks.js';
import type { PressureLadderResult } from '../pressure-ladder/pressure-ladder.types.js';

/** The input of a proof as sizing records of formats 2 and 3 hold it: format 2 without `further`. */
export interface FormerProofInput extends SupplyProofInput {
  further?: Omit<PartChecksInput, 'marginsAsked'> & {
    /** with those of checks of which none is asked, as zero */
    marginsAsked: CircuitProofInput['marginsAsked'];
  };
}

/** The proof of a circuit from the input that an older sizing record holds, with the checks that were made then. */
export function proveFormer({ further, ...supply }: FormerProofInput): PressureLadderResult {
  if (further === undefined) return proveSupply(supply);
  return proveCircuit({ ...further, ...supply, marginsAsked: { ...further.marginsAsked, ...supply.marginsAsked } });
}
