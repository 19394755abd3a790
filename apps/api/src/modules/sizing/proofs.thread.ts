import {
  pressureLadder,
  proveCircuit,
  type CircuitProofInput,
  type PressureLadderInput,
  type PressureLadderResult,
} from '@repo/calc';

/** Circuits to be proved, or the pressure ladders of those sizing records that hold no more. */
export type Proofs = { circuits: CircuitProofInput[] } | { ladders: PressureLadderInput[] };

/** Proofs in the pool of threads: the movement of a stiff circuit takes thousands of steps. */
export default function proveInThread(proofs: Proofs): PressureLadderResult[] {
  return 'ladders' in proofs ? proofs.ladders.map(pressureLadder) : proofs.circuits.map(proveCircuit);
}
