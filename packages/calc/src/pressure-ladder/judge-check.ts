import type { CheckReason } from '../circuit-checks/checks.js';
import { symmetricSumProbability } from '../statistics/symmetric-sum.js';
import type {
  FigureRef,
  ProvedCheck,
  PressureCheckCode,
  CheckMargin,
  MissingFigure,
  CheckStatus,
} from './pressure-ladder.types.js';
import { isAbove, isExact, known, type Span } from './span.js';

/** One side of a check in its three views. */
export interface ThreeViews {
  readonly nominal: Span;
  readonly stated: Span;
  readonly worstCase: Span;
}

export const same = (span: Span): ThreeViews => ({ nominal: span, stated: span, worstCase: span });

/** Independent errors of a margin, all uniform: P(sum of errors ≤ margin). Null while a figure is not known. */
export interface MarginErrors {
  readonly marginPa: number;
  readonly halfWidthsPa: readonly number[];
}

/** A check before it is judged. */
export interface CheckDraft {
  readonly code: PressureCheckCode;
  readonly demand: ThreeViews;
  readonly capacity: ThreeViews;
  readonly failReason: CheckReason;
  readonly subject: FigureRef | null;
  readonly missing: readonly MissingFigure[];
  readonly marginAsked: number;
  readonly errors: MarginErrors | null;
  /** of what bounds it beside: all of them have to hold */
  readonly otherErrors?: readonly MarginErrors[];
  readonly parameters: Readonly<Record<string, number>>;
  readonly source: string;
  readonly governing?: ProvedCheck['governing'];
  /** least probability with which it must hold [1]; left out: none is asked */
  readonly leastProbability?: number | undefined;
}

export type View = keyof ThreeViews;

/** The two sides of a check. */
export interface Sides {
  readonly demand: ThreeViews;
  readonly capacity: ThreeViews;
}
/** Which end of what is known is taken: the good one, the bad one, or only what is known exactly. */
export type Outlook = 'best' | 'worst' | 'exact';

/** Demand and capacity of a view as far as the outlook lets them be told; null where it does not. */
export function toSides(sides: Sides, view: View, outlook: Outlook): { demand: number; capacity: number } | null {
  const need = sides.demand[view];
  const have = sides.capacity[view];
  if (outlook === 'exact' && !(isExact(need) && isExact(have))) return null;
  const demand = outlook === 'worst' ? need.hi : need.lo;
  const capacity = outlook === 'worst' ? have.lo : have.hi;
  return Number.isFinite(demand) && Number.isFinite(capacity) ? { demand, capacity } : null;
}

function toMargin(draft: CheckDraft, view: View, outlook: Outlook): CheckMargin | null {
  const sides = toSides(draft, view, outlook);
  if (!sides) return null;
  const { demand, capacity } = sides;
  return { demandPa: demand, capacityPa: capacity, marginPa: capacity - demand };
}

function isBroken(demandPa: number, capacityPa: number): boolean {
  return isAbove(demandPa, capacityPa);
}

/** The margin asked for is not there: demand above what the capacity leaves. */
function isInsideMargin(demandPa: number, capacityPa: number, asked: number): boolean {
  // Nothing asked of a capacity without a known end leaves that capacity.
  return isBroken(demandPa, asked === 0 ? capacityPa : capacityPa - asked * Math.abs(capacityPa));
}

/** `fails` by the stated tolerances, `marginal` with every known error, `unproven` where bounds leave it open. */
export function judgeSides(draft: Sides, asked: number | null): { status: CheckStatus; outlook: Outlook } {
  const { demand, capacity } = draft;
  if (isBroken(demand.stated.lo, capacity.stated.hi)) return { status: 'fails', outlook: 'best' };
  const mayFail = isBroken(demand.stated.hi, capacity.stated.lo);
  if (mayFail || asked === null) return { status: 'unproven', outlook: 'exact' };
  if (!isInsideMargin(demand.worstCase.hi, capacity.worstCase.lo, asked)) return { status: 'holds', outlook: 'worst' };
  const isMarginalForSure = isInsideMargin(demand.worstCase.lo, capacity.worstCase.hi, asked);
  return isMarginalForSure ? { status: 'marginal', outlook: 'worst' } : { status: 'unproven', outlook: 'exact' };
}

export function toReason<R extends string>(
  { demand, capacity }: Sides,
  status: CheckStatus,
  failReason: R,
): R | 'within' | 'missing' | 'gauge-error-decides' | 'inside-margin' {
  if (status === 'fails') return failReason;
  if (status === 'holds') return 'within';
  if (status === 'unproven') return 'missing';
  return isBroken(demand.worstCase.lo, capacity.worstCase.hi) ? 'gauge-error-decides' : 'inside-margin';
}

/** an error below this is none: a millionth of a pascal */
const LEAST_WIDTH_PA = 1e-6;

export function findProbability(errors: MarginErrors | null): number | null {
  if (errors === null || !Number.isFinite(errors.marginPa)) return null;
  let largest = 0;
  for (const width of errors.halfWidthsPa) largest = Math.max(largest, Math.abs(width));
  // Widths that cannot move the fourth digit would only cost digits in the sum over corners.
  const uniform = errors.halfWidthsPa.map(Math.abs).filter((width) => width > Math.max(1e-6 * largest, LEAST_WIDTH_PA));
  if (uniform.length === 0) return isAbove(-errors.marginPa, 0) ? 0 : 1;
  return symmetricSumProbability(errors.marginPa, { uniform, sigma: 0 });
}

/** That all of some hold together, at the least: whatever they have in common, what is unlikely of each adds up to no more (Boole's inequality). */
export function findJointProbability(each: readonly (number | null)[]): number | null {
  if (each.includes(null)) return null;
  const unlikely = each.map(Number).reduce((sum, one) => sum + (1 - one), 0);
  return each.length === 1 ? Number(each[0]) : Math.max(0, 1 - unlikely);
}

const findLeastProbability = ({ errors, otherErrors = [] }: CheckDraft): number | null =>
  findJointProbability([errors, ...otherErrors].map(findProbability));

/** What holds with its stated tolerances, but too seldom with every known error, does not hold; nor is it proven while nobody knows. */
function byProbability(check: ProvedCheck, { leastProbability, missing }: CheckDraft): ProvedCheck {
  const { status, probability } = check;
  if (leastProbability === undefined || status === 'fails' || status === 'unproven') return check;
  if (probability !== null && probability < leastProbability) {
    return { ...check, status: 'fails', reason: 'probability-too-low' };
  }
  // What holds with every error that there can be holds surely.
  return probability === null && status === 'marginal'
    ? { ...check, status: 'unproven', reason: 'missing', missing }
    : check;
}

/** Judges demand against capacity: `fails` by the stated tolerances, `marginal` with every known error, else `holds`. */
export function judgeCheck(draft: CheckDraft): ProvedCheck {
  const asked = known(draft.marginAsked);
  const missing = asked === null ? [...draft.missing, { field: 'marginAsked', ref: null }] : draft.missing;
  const { status, outlook } = judgeSides(draft, asked);
  const stated = toMargin(draft, 'stated', outlook);
  const check: ProvedCheck = {
    code: draft.code,
    status,
    reason: toReason(draft, status, draft.failReason),
    subject: draft.subject,
    nominal: toMargin(draft, 'nominal', outlook),
    stated,
    worstCase: toMargin(draft, 'worstCase', outlook),
    ratio: stated && stated.capacityPa > 0 ? known(stated.demandPa / stated.capacityPa) : null,
    marginAsked: asked ?? 0,
    probability: missing.length === 0 ? findLeastProbability(draft) : null,
    // What a known bound has already proved needs nothing more.
    missing: status === 'holds' || status === 'marginal' ? [] : missing,
    parameters: draft.parameters,
    source: draft.source,
  };
  if (draft.governing) check.governing = draft.governing;
  return byProbability(check, draft);
}
