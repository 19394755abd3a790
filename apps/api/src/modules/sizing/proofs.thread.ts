import {
  pressureLadder,
  proveFacts,
  proveFormer,
  type CircuitFacts,
  type FormerProofInput,
  type PressureLadderInput,
  type PressureLadderResult,
} from '@repo/calc';

/** Circuits to be proved from what is recorded of them, or from the inputs that older sizing records hold. */
export type Proofs =
  | { facts: readonly CircuitFacts[] }
  | { former: readonly FormerProofInput[] }
  | { ladders: readonly PressureLadderInput[] };

/** Proofs in the pool of threads: the movement of a stiff circuit takes thousands of steps. */
export default function proveInThread(proofs: Proofs): PressureLadderResult[] {
  if ('facts' in proofs) return proofs.facts.map(proveFacts);
  return 'ladders' in proofs ? proofs.ladders.map(pressureLadder) : proofs.former.map(proveFormer);
}
