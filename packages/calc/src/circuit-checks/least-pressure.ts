import type { ThreeViews } from '../pressure-ladder/judge-check.js';
import type { MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { isExact, leastOf, toSpan, ZERO, type Span } from '../pressure-ladder/span.js';
import { asCapacity, listMissing } from './judge-pairs.js';

/** The setting, and the lowest pressure to which the pump surely lifts the circuit. */
export interface Ceiling {
  settingPa: number | null;
  settingHalfWidthPa: number | null;
  lift: Span;
}

/** Of several pressures the circuit has the least; each with its half width. */
export interface Bound {
  readonly pressure: Span;
  readonly halfWidth: Span;
}
export function leastOfBounds(bounds: readonly [Bound, ...Bound[]], gauge: Span): ThreeViews {
  const [first, ...others] = bounds;
  return others.reduce<ThreeViews>(
    (least, bound) => leastViews(least, asCapacity(bound.pressure, bound.halfWidth, gauge)),
    asCapacity(first.pressure, first.halfWidth, gauge),
  );
}

export const toBounds = (ceiling: Ceiling | undefined): readonly Bound[] =>
  ceiling === undefined
    ? []
    : [
        { pressure: toSpan(ceiling.settingPa), halfWidth: toSpan(ceiling.settingHalfWidthPa) },
        { pressure: ceiling.lift, halfWidth: ZERO },
      ];

/** The lowest pressure to which the pump lifts, where it is not known; one that nothing bounds need not be. */
export const listOfLift = (lift: Span | undefined): readonly MissingFigure[] =>
  lift === undefined || isExact(lift) || lift.lo === Infinity
    ? []
    : listMissing({ field: 'lowestLiftPa', value: null });

export function listOfCeiling(ceiling: Ceiling | undefined): readonly MissingFigure[] {
  if (ceiling === undefined) return [];
  const { settingPa, settingHalfWidthPa, lift } = ceiling;
  return [
    ...listMissing(
      { field: 'settingPa', value: settingPa },
      { field: 'settingHalfWidthPa', value: settingHalfWidthPa },
    ),
    ...listOfLift(lift),
  ];
}

export const leastViews = (a: ThreeViews, b: ThreeViews): ThreeViews => ({
  nominal: leastOf(a.nominal, b.nominal),
  stated: leastOf(a.stated, b.stated),
  worstCase: leastOf(a.worstCase, b.worstCase),
});
