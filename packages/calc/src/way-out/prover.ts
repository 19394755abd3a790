import { actuate } from '../circuit-checks/actuation.js';
import type { ActuationResult } from '../circuit-checks/actuation.types.js';
import { CHECK_CODES, type CheckCode } from '../circuit-checks/checks.js';
import { RULES, type BesideLadder } from '../circuit-checks/prove-circuit.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { toLadderInput } from '../circuit-facts/ladder-input.js';
import { toProofInput } from '../circuit-facts/prove-facts.js';
import { findLowestLift } from '../pressure-ladder/ladder-figures.js';
import { pressureLadder } from '../pressure-ladder/pressure-ladder.js';
import type { LadderCheck } from '../pressure-ladder/pressure-ladder.types.js';

const isBeside = (code: CheckCode): code is BesideLadder => code in RULES;

/**
 * Proofs of one circuit with its figures changed again and again. How its cylinders move is computed once for each way in which they can be
 * moved: a setting or a rating that is changed moves nothing.
 */
export class Prover {
  private readonly moved = new Map<string, ActuationResult>();

  /** Of all checks, or of some. */
  prove(facts: CircuitFacts, codes: readonly CheckCode[] = CHECK_CODES): LadderCheck[] {
    if (!codes.some(isBeside)) {
      const { checks } = pressureLadder(toLadderInput(facts));
      return checks.filter(({ code }) => codes.includes(code));
    }
    const input = toProofInput(facts);
    const { window, checks } = pressureLadder(input.pressureLadder);
    const move = (): ActuationResult => {
      const key = JSON.stringify(input.actuation);
      const found = this.moved.get(key) ?? actuate(input.actuation);
      this.moved.set(key, found);
      return found;
    };
    const computed = { window, lift: findLowestLift(input.pressureLadder).span, moved: move };
    const made = new Map<CheckCode, LadderCheck>(checks.map((check) => [check.code, check]));
    return codes.map((code) => (isBeside(code) ? RULES[code](input, computed) : (made.get(code) as LadderCheck)));
  }
}

/** It fails or is too near to it; what is not proven lacks a figure, and no change is a figure. */
export const isBad = ({ status }: LadderCheck): boolean => status === 'fails' || status === 'marginal';
