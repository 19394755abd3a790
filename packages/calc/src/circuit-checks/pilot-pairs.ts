import type { ThreeViews, View } from '../pressure-ladder/judge-check.js';
import { listUnknown, type PressureFigures } from '../pressure-ladder/pressure-figures.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { findTrappedBound } from '../pressure-ladder/relief-bounds.js';
import { SETTING_FIELDS, settingViews } from '../pressure-ladder/setting-check.js';
import { leastOf, mostOf, multiply, toSpan, type Span } from '../pressure-ladder/span.js';
import { asCapacity, listMissing, same, type CheckPair } from './judge-pairs.js';
import { leastViews, listOfLift } from './least-pressure.js';

/** A check valve that a pilot opens from the other line; ref null: one is said to be there, and none is fitted. */
export interface PilotedValve {
  ref: FigureRef | null;
  /** pressure that is shut in over the pressure of the pilot that opens against it [1], 1 <= ratio; null: not known */
  pilotRatio: number | null;
}

export interface PilotPressures {
  /** what is shut in at the most: the setting, warmed up as far as something lets it out [Pa] */
  shutIn: ThreeViews;
  /** it may be above the setting */
  isWarm: boolean;
  /** what stands in the unclamp line at the least, as it is to open [Pa] */
  least: ThreeViews;
  missing: readonly MissingFigure[];
}

/** What such a valve has to open against, and what its pilot has at the lowest of the setting and at the lowest air. */
export function toPilotPressures(figures: PressureFigures, lift: Span): PilotPressures {
  const { input, setting, settingHalfWidth, rise } = figures;
  const bound = findTrappedBound(input);
  const [cold, warm] = [settingViews(figures), settingViews(figures, rise.span)];
  const shutIn = (view: View): Span => mostOf(cold[view], leastOf(warm[view], bound.span));
  return {
    shutIn: { nominal: shutIn('nominal'), stated: shutIn('stated'), worstCase: shutIn('worstCase') },
    isWarm: rise.span.hi > 0,
    least: leastViews(asCapacity(setting, settingHalfWidth), same(lift)),
    missing: [...rise.missing, ...bound.missing, ...listUnknown(input, SETTING_FIELDS), ...listOfLift(lift)],
  };
}

/** No pilot opens against more than presses upon it without a larger area: a ratio is never below one. */
const RATIO_UNKNOWN: Span = { lo: 0, hi: 1 };

/**
 * A piloted check valve opens once its pilot has what is shut in, divided by its ratio (balance of forces on its seat; from memory). Where nothing
 * warms up behind it, one of which nobody has said the ratio is taken to open: the pilot has the setting too.
 */
export const listOfPilots = (
  piloted: readonly PilotedValve[],
  { shutIn, isWarm, least, missing }: PilotPressures,
): CheckPair[] =>
  piloted
    .filter(({ pilotRatio }) => isWarm || pilotRatio !== null)
    .map(({ ref, pilotRatio }) => {
      const share = pilotRatio === null ? RATIO_UNKNOWN : toSpan(1 / pilotRatio);
      return {
        kind: 'pressure',
        demand: {
          nominal: multiply(shutIn.nominal, share),
          stated: multiply(shutIn.stated, share),
          worstCase: multiply(shutIn.worstCase, share),
        },
        capacity: least,
        failReason: 'pilot-too-weak',
        subject: ref,
        missing: [...listMissing({ field: 'pilotRatio', value: pilotRatio, ref }), ...missing],
        source: 'cylinder-speed',
        isBehind: true,
      };
    });
