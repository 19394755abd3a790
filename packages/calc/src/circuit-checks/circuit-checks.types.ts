import type { FigureRef, LadderMissing, LadderStatus } from '../pressure-ladder/pressure-ladder.types.js';

/** The checks of a circuit beside those of its pressure ladder. */
export type CircuitCheckCode =
  | 'clamping-time'
  | 'unclamping'
  | 'control-wiring'
  | 'shared-supply'
  | 'holds-without-supply'
  | 'order-and-speed'
  | 'reservoir';

export type CircuitCheckReason =
  | 'within'
  | 'inside-margin'
  | 'gauge-error-decides'
  | 'missing'
  // not applicable
  | 'always-supplied'
  | 'nothing-to-order'
  // fails
  | 'clamps-too-slowly'
  | 'switch-before-contact'
  | 'unclamps-too-slowly'
  | 'open-not-proved'
  | 'spring-too-weak'
  | 'supply-too-small'
  | 'inrush-too-large'
  | 'voltage-at-coil'
  | 'duty-not-continuous'
  | 'no-suppression'
  | 'output-overvoltage'
  | 'polarity'
  | 'commons-not-separate'
  | 'protection-too-large'
  | 'insulation-too-low'
  | 'other-station-pulls-down'
  | 'restart-below-reset'
  | 'falls-below-required'
  | 'not-proved-again'
  | 'support-locks-late'
  | 'support-overloaded'
  | 'flow-too-high'
  | 'pressure-above-arm-chart'
  | 'reservoir-too-small'
  | 'reservoir-overflows'
  | 'signals-shared'
  | 'rule-broken';

/** What the numbers of a check are: SI units. `fact`: 1 asked for, 1 or 0 there. */
export type CircuitCheckKind =
  'time' | 'pressure' | 'power' | 'voltage' | 'current' | 'force' | 'flow' | 'volume' | 'fact';

export interface CircuitMargin {
  demand: number;
  capacity: number;
  margin: number;
}

/** As `LadderCheck`, its numbers in the SI unit of `kind`. */
export interface CircuitCheck {
  code: CircuitCheckCode;
  status: LadderStatus;
  reason: CircuitCheckReason;
  subject: FigureRef | null;
  kind: CircuitCheckKind | null;
  nominal: CircuitMargin | null;
  stated: CircuitMargin | null;
  worstCase: CircuitMargin | null;
  ratio: number | null;
  marginAsked: number;
  missing: readonly LadderMissing[];
  /** every pair that the check consists of and how it stands, the worst first */
  pairs: readonly { reason: CircuitCheckReason; subject: FigureRef | null; status: LadderStatus }[];
  source: string;
}

/** A time that a transient or a measurement gave: seconds, `never` reached, or null: not known. */
export type CheckedTime = number | 'never' | null;
