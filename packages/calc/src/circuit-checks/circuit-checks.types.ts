import type {
  FigureRef,
  PressureCheckCode,
  MissingFigure,
  CheckStatus,
} from '../pressure-ladder/pressure-ladder.types.js';
import type { CheckCode, CheckReason } from './checks.js';

/** The checks of a circuit that compare demand and capacity of parts. */
export type CircuitCheckCode = Exclude<CheckCode, PressureCheckCode | 'interlock-sound'>;

export type CircuitCheckReason = CheckReason<CircuitCheckCode>;

/** What the numbers of a check are: SI units. `fact`: 1 asked for, 1 or 0 there. */
export type CircuitCheckKind =
  'time' | 'pressure' | 'power' | 'voltage' | 'current' | 'force' | 'flow' | 'volume' | 'fact';

export interface CircuitMargin {
  demand: number;
  capacity: number;
  margin: number;
}

/** As `ProvedCheck`, its numbers in the SI unit of `kind`. */
export interface CircuitCheck {
  code: CircuitCheckCode;
  status: CheckStatus;
  reason: CircuitCheckReason;
  subject: FigureRef | null;
  kind: CircuitCheckKind | null;
  nominal: CircuitMargin | null;
  stated: CircuitMargin | null;
  worstCase: CircuitMargin | null;
  ratio: number | null;
  marginAsked: number;
  /** with which the margin shown is there [1]; null: not asked, or not known */
  probability: number | null;
  missing: readonly MissingFigure[];
  /** every pair that the check consists of and how it stands, the worst first */
  pairs: readonly { reason: CircuitCheckReason; subject: FigureRef | null; status: CheckStatus }[];
  source: string;
}

/** A time that a transient or a measurement gave: seconds, `never` reached, or null: not known. */
export type CheckedTime = number | 'never' | null;
