import { interlockProof, type InterlockProofInput, type InterlockProofResult } from '@repo/calc';

/** Every state of a machine's interlock, explored in the pool of threads. */
export default function proveInThread(input: InterlockProofInput): InterlockProofResult {
  return interlockProof(input);
}
