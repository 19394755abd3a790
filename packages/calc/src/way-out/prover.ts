import { actuate } from '../circuit-checks/actuation.js';
import type { ActuationInput, ActuationResult } from '../circuit-checks/actuation.types.js';
import { CHECK_CODES, type CheckCode } from '../circuit-checks/checks.js';
import { CircuitProof } from '../circuit-checks/prove-circuit.js';
import type { CircuitFacts } from '../circuit-facts/circuit-facts.types.js';
import { toPressureLadderInput } from '../circuit-facts/pressure-ladder-input.js';
import { toProofInput } from '../circuit-facts/prove-facts.js';
import type { ProvedCheck } from '../pressure-ladder/pressure-ladder.types.js';
import { applyValue, valueOf, type Target, type Value } from './apply-change.js';
import type { WayOutChange } from './way-out.types.js';

/** So many changed circuits are kept before they are let go: each holds what was proved of it. */
const MOST_KEPT = 4_000;

/**
 * Proofs of one circuit with its figures changed again and again. How its cylinders move is computed once for each way in which they can be
 * moved: a setting or a rating that is changed moves nothing.
 */
export class Prover {
  private readonly moved = new Map<string, ActuationResult>();
  private readonly interlocks = new WeakMap<CircuitFacts['control'], Map<string, ProvedCheck>>();
  private readonly proofs = new WeakMap<CircuitFacts, CircuitProof>();
  private readonly changed = new Map<CircuitFacts, Map<string, CircuitFacts>>();
  private kept = 0;

  /** `applyValue`: the same change of the same circuit is made once, so that what was proved of it is found again. */
  set(facts: CircuitFacts, target: Target, value: Value): CircuitFacts {
    if (this.kept === MOST_KEPT) {
      this.changed.clear();
      this.kept = 0;
    }
    const ofFacts = this.changed.get(facts) ?? new Map<string, CircuitFacts>();
    const { code, holder, id, field, apart } = target;
    const key = [code, holder, id, field, apart, typeof value, value].join(' ');
    const known = ofFacts.get(key);
    if (known !== undefined) return known;
    const made = applyValue(facts, target, value);
    this.changed.set(facts, ofFacts.set(key, made));
    this.kept += 1;
    return made;
  }

  /** `applyChange`, likewise. */
  change(facts: CircuitFacts, change: WayOutChange, figure?: number): CircuitFacts {
    return this.set(facts, change, valueOf(change, figure));
  }

  /** Of all checks, or of some. */
  prove(facts: CircuitFacts, codes: readonly CheckCode[] = CHECK_CODES): ProvedCheck[] {
    const proof = this.proofs.get(facts) ?? this.begin(facts);
    this.proofs.set(facts, proof);
    return codes.map((code) => (code === 'interlock-sound' ? this.proveInterlock(facts, proof) : proof.check(code)));
  }

  private begin(facts: CircuitFacts): CircuitProof {
    const ladder = toPressureLadderInput(facts);
    return new CircuitProof(
      ladder,
      () => toProofInput(facts, ladder),
      (actuation) => this.move(actuation),
    );
  }

  /** Every state of the control takes long to explore, and most of what is changed is not of it. */
  private proveInterlock({ control }: CircuitFacts, proof: CircuitProof): ProvedCheck {
    const senses = String(proof.figures.input.sensesClamps);
    const ofControl = this.interlocks.get(control) ?? new Map<string, ProvedCheck>();
    const check = ofControl.get(senses) ?? proof.check('interlock-sound');
    this.interlocks.set(control, ofControl.set(senses, check));
    return check;
  }

  private move(actuation: ActuationInput): ActuationResult {
    const key = JSON.stringify(actuation);
    const moved = this.moved.get(key) ?? actuate(actuation);
    this.moved.set(key, moved);
    return moved;
  }
}

/** It fails or is too near to it; what is not proven lacks a figure, and no change is a figure. */
export const isBad = ({ status }: ProvedCheck): boolean => status === 'fails' || status === 'marginal';
