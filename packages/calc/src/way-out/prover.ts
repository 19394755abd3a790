import { actuate } from '../circuit-checks/actuation.js';
import type { ActuationInput, ActuationResult } from '../circuit-checks/actuation.types.js';
import { CHECK_CODES, type CheckCode } from '../circuit-checks/checks.js';
import { RULES, type BesideLadder, type CircuitProofInput } from '../circuit-checks/prove-circuit.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { toLadderInput } from '../circuit-facts/ladder-input.js';
import { toProofInput } from '../circuit-facts/prove-facts.js';
import {
  checkHighestWithinRating,
  checkHoldsWorkpiece,
  checkNoNuisanceStop,
  checkSettingWithinRating,
  checkWorkpieceLimit,
} from '../pressure-ladder/ladder-checks.js';
import { findFigures, type LadderFigures } from '../pressure-ladder/ladder-figures.js';
import { findWindow } from '../pressure-ladder/ladder-window.js';
import type { LadderCheck, LadderCheckCode } from '../pressure-ladder/pressure-ladder.types.js';

const OF_LADDER: Readonly<Record<LadderCheckCode, (figures: LadderFigures) => LadderCheck>> = {
  'holds-workpiece': checkHoldsWorkpiece,
  'no-nuisance-stop': checkNoNuisanceStop,
  'setting-within-rating': checkSettingWithinRating,
  'highest-within-rating': checkHighestWithinRating,
  'workpiece-limit': checkWorkpieceLimit,
};

/** The proof of one state of the circuit, as far as it was asked for. */
class Proof {
  private readonly made = new Map<CheckCode, LadderCheck>();
  private input: CircuitProofInput | null = null;
  private readonly figures: LadderFigures;

  constructor(
    private readonly facts: CircuitFacts,
    private readonly move: (input: CircuitProofInput) => ActuationResult,
  ) {
    this.figures = findFigures(toLadderInput(facts));
  }

  check(code: CheckCode): LadderCheck {
    const check = this.made.get(code) ?? this.make(code);
    this.made.set(code, check);
    return check;
  }

  private make(code: CheckCode): LadderCheck {
    if (code in OF_LADDER) return OF_LADDER[code as LadderCheckCode](this.figures);
    const input = (this.input ??= toProofInput(this.facts));
    const lift = this.figures.lowestLift.span;
    return RULES[code as BesideLadder](input, {
      window: findWindow(this.figures),
      lift,
      moved: () => this.move(input),
    });
  }
}

/**
 * Proofs of one circuit with its figures changed again and again. How its cylinders move is computed once for each way in which they can be
 * moved: a setting or a rating that is changed moves nothing.
 */
export class Prover {
  private readonly moved = new Map<string, ActuationResult>();
  private readonly proofs = new WeakMap<CircuitFacts, Proof>();

  /** Of all checks, or of some. */
  prove(facts: CircuitFacts, codes: readonly CheckCode[] = CHECK_CODES): LadderCheck[] {
    const proof = this.proofs.get(facts) ?? new Proof(facts, ({ actuation }) => this.move(actuation));
    this.proofs.set(facts, proof);
    return codes.map((code) => proof.check(code));
  }

  private move(actuation: ActuationInput): ActuationResult {
    const key = JSON.stringify(actuation);
    const moved = this.moved.get(key) ?? actuate(actuation);
    this.moved.set(key, moved);
    return moved;
  }
}

/** It fails or is too near to it; what is not proven lacks a figure, and no change is a figure. */
export const isBad = ({ status }: LadderCheck): boolean => status === 'fails' || status === 'marginal';
