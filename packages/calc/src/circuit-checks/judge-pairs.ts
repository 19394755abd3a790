import {
  findJointProbability,
  findProbability,
  judgeSides,
  toReason,
  toSides,
  type MarginErrors,
  type Outlook,
  type ThreeViews,
  type View,
} from '../pressure-ladder/judge-check.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { add, known, subtract, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import type {
  CheckedTime,
  CircuitCheck,
  CircuitCheckCode,
  CircuitCheckKind,
  CircuitCheckReason,
  CircuitMargin,
} from './circuit-checks.types.js';

/** One demand against one capacity. */
export interface CheckPair {
  readonly kind: CircuitCheckKind;
  readonly demand: ThreeViews;
  readonly capacity: ThreeViews;
  readonly failReason: CircuitCheckReason;
  readonly subject: FigureRef | null;
  readonly missing: readonly MissingFigure[];
  readonly source: string;
  /** the margin asked of the check is not asked of this pair */
  readonly noMargin?: true;
  /** while it holds, another pair's numbers are shown before its own */
  readonly isBehind?: true;
  /** independent errors of its margin; left out: how surely it holds is not asked */
  readonly errors?: MarginErrors | readonly MarginErrors[];
}

/** A figure with its name, so that it can be listed when it is missing. */
export interface Named {
  readonly field: string;
  readonly value: number | null;
  readonly ref?: FigureRef | null;
}

export const same = (span: Span): ThreeViews => ({ nominal: span, stated: span, worstCase: span });

/** A figure as a demand: itself, with its half width, with a further error. */
export function asDemand(value: Span, halfWidth: Span, further: Span = ZERO): ThreeViews {
  const stated = add(value, halfWidth);
  return { nominal: value, stated, worstCase: add(stated, further) };
}

/** A figure as a capacity: itself, less its half width, less a further error. */
export function asCapacity(value: Span, halfWidth: Span = ZERO, further: Span = ZERO): ThreeViews {
  const stated = subtract(value, halfWidth);
  return { nominal: value, stated, worstCase: subtract(stated, further) };
}

const NOTHING: readonly MissingFigure[] = [];

export function listMissing(...figures: readonly Named[]): readonly MissingFigure[] {
  // Thousands of circuits are judged a second, and nearly all figures are there.
  if (figures.every(({ value }) => known(value) !== null)) return NOTHING;
  return figures.filter(({ value }) => known(value) === null).map(({ field, ref = null }) => ({ field, ref }));
}

/** The same of figures that belong to one component. */
export function listMissingOf(
  ref: FigureRef | null,
  demand: { field: string; value: number | null },
  capacity: { field: string; value: number | null },
): readonly MissingFigure[] {
  if (known(demand.value) !== null && known(capacity.value) !== null) return NOTHING;
  return listMissing({ ...demand, ref }, { ...capacity, ref });
}

/** A figure; where it is not known, what it is at least. */
export const toSpanFrom = (value: number | null, atLeast: number | null | undefined): Span =>
  known(value) === null && atLeast != null ? { lo: atLeast, hi: Infinity } : toSpan(value);

export function toTimeSpan(time: CheckedTime): Span {
  return time === 'never' ? { lo: Infinity, hi: Infinity } : toSpan(time);
}

/** A statement that must be true; null: nobody has said. */
export function factPair(
  value: boolean | null,
  field: string,
  failReason: CircuitCheckReason,
  source: string,
  subject: FigureRef | null = null,
): CheckPair {
  const capacity: Span = value === null ? { lo: 0, hi: 1 } : { lo: Number(value), hi: Number(value) };
  return {
    kind: 'fact',
    demand: same({ lo: 1, hi: 1 }),
    capacity: same(capacity),
    failReason,
    subject,
    missing: value === null ? [{ field, ref: subject }] : [],
    source,
    noMargin: true,
  };
}

/** Something that might make it worse, of which nobody knows how much: it can fail all the same, but not hold. */
export const unknownPairs = (
  missing: readonly MissingFigure[],
  failReason: CircuitCheckReason,
  source: string,
): CheckPair[] => (missing.length === 0 ? [] : [{ ...factPair(null, '', failReason, source), missing }]);

const SEVERITY = { fails: 3, unproven: 2, marginal: 1, holds: 0, 'not-applicable': -1 } as const;

/** A pair and how it stands; what of it is shown is made for the worst alone. */
interface JudgedPair {
  readonly pair: CheckPair;
  readonly asked: number | null;
  readonly status: CircuitCheck['status'];
  readonly outlook: Outlook;
  /** how much of the capacity is used; a statement that is true says less than any number */
  readonly use: number;
  /** with which its margin is there [1]; null: not asked, or not known */
  readonly probability: number | null;
}

function toRatio(sides: { demand: number; capacity: number } | null): number | null {
  return sides && sides.capacity > 0 ? known(sides.demand / sides.capacity) : null;
}

/** Of several that bound it each has errors of its own. */
function findLeastProbability(errors: MarginErrors | readonly MarginErrors[]): number {
  const each = (Array.isArray(errors) ? errors : [errors]) as readonly MarginErrors[];
  // One of which nobody can say it is as good as none.
  return Number(findJointProbability(each.map((one) => Number(findProbability(one)))));
}

/** How much of the capacity is used: more than all of it where nothing is left. */
const toUse = (sides: { demand: number; capacity: number } | null): number =>
  sides !== null && sides.capacity <= 0 && sides.demand > sides.capacity ? Infinity : (toRatio(sides) ?? 0);

/** What holds with its stated tolerances, but too seldom with every known error, does not hold. */
const isTooSeldom = ({ status, probability }: JudgedPair, leastProbability: number | undefined): boolean =>
  leastProbability !== undefined &&
  probability !== null &&
  probability < leastProbability &&
  (status === 'holds' || status === 'marginal');

function judgePair(pair: CheckPair, marginAsked: number, leastProbability: number | undefined): JudgedPair {
  const asked = pair.noMargin ? 0 : known(marginAsked);
  const { status, outlook } = judgeSides(pair, asked);
  const isLast = pair.kind === 'fact' || pair.isBehind === true;
  const use = isLast ? -1 : toUse(toSides(pair, 'stated', outlook));
  const probability = pair.errors === undefined || pair.missing.length > 0 ? null : findLeastProbability(pair.errors);
  // What holds by its stated tolerances alone is not proven while nobody knows how surely.
  const isOpen = leastProbability !== undefined && pair.errors !== undefined && probability === null;
  const judged = {
    pair,
    asked,
    status: isOpen && status === 'marginal' ? 'unproven' : status,
    outlook,
    use,
    probability,
  } as const;
  if (!isTooSeldom(judged, leastProbability)) return judged;
  return { ...judged, pair: { ...pair, failReason: 'probability-too-low' }, status: 'fails' };
}

function listWhatIsMissing({ pair, asked, status }: JudgedPair): readonly MissingFigure[] {
  if (status !== 'fails' && status !== 'unproven') return NOTHING;
  return asked === null ? [...pair.missing, { field: 'marginAsked', ref: null }] : pair.missing;
}

/** What several pairs lack is asked for once. */
const onceEach = (missing: readonly MissingFigure[]): readonly MissingFigure[] =>
  missing.filter(
    ({ field, ref }, index) =>
      missing.findIndex(
        (other) => other.field === field && other.ref?.id === ref?.id && other.ref?.name === ref?.name,
      ) === index,
  );

function toMargin({ pair, outlook }: JudgedPair, view: View): CircuitMargin | null {
  const sides = toSides(pair, view, outlook);
  if (sides === null) return null;
  const { demand, capacity } = sides;
  return { demand, capacity, margin: capacity - demand };
}

/** A check made of several pairs: the worst of them speaks for it, and everything missing is listed. */
export function judgePairs(
  code: CircuitCheckCode,
  pairs: readonly CheckPair[],
  marginAsked: number,
  noneReason: CircuitCheckReason,
  leastProbability?: number,
): CircuitCheck {
  const judged = pairs
    .map((pair) => judgePair(pair, marginAsked, leastProbability))
    .sort((a, b) => SEVERITY[b.status] - SEVERITY[a.status] || b.use - a.use);
  const [worst] = judged;
  if (!worst) {
    return {
      code,
      status: 'not-applicable',
      reason: noneReason,
      subject: null,
      kind: null,
      nominal: null,
      stated: null,
      worstCase: null,
      ratio: null,
      marginAsked: 0,
      probability: null,
      missing: [],
      pairs: [],
      source: '',
    };
  }
  const { pair, status, asked } = worst;
  const stated = toMargin(worst, 'stated');
  return {
    code,
    status,
    reason: toReason(pair, status, pair.failReason),
    subject: pair.subject,
    kind: pair.kind,
    nominal: toMargin(worst, 'nominal'),
    stated,
    worstCase: toMargin(worst, 'worstCase'),
    ratio: toRatio(stated),
    marginAsked: asked ?? 0,
    probability: worst.probability,
    missing: onceEach(judged.flatMap(listWhatIsMissing)),
    pairs: judged.map((one) => ({
      reason: toReason(one.pair, one.status, one.pair.failReason),
      subject: one.pair.subject,
      status: one.status,
    })),
    source: pair.source,
  };
}
