import { findWayOut, type CircuitFacts, type WayOut } from '@repo/calc';

/** The way out of one circuit in the pool of threads: it takes as many proofs as there are ways to try. */
export default function findInThread(facts: CircuitFacts): WayOut {
  return findWayOut(facts);
}
