import type { ThreeViews, View } from '../pressure-ladder/judge-check.js';
import { listUnknown, type OpposedFigure, type PressureFigures } from '../pressure-ladder/pressure-figures.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import { findTrappedBound } from '../pressure-ladder/relief-bounds.js';
import { SETTING_FIELDS, settingViews } from '../pressure-ladder/setting-check.js';
import { add, isAbove, leastOf, mostOf, multiply, subtract, toSpan, type Span } from '../pressure-ladder/span.js';
import { asCapacity, factPair, listMissing, same, unknownPairs, type CheckPair } from './judge-pairs.js';
import { leastViews, listOfLift } from './least-pressure.js';

/** A check valve that a pilot opens from the other line; ref null: one is said to be there, and none is fitted. */
export interface PilotedValve {
  ref: FigureRef | null;
  /** pressure that is shut in over the pressure of the pilot that opens against it [1], 1 <= ratio; null: not known */
  pilotRatio: number | null;
  /** what nobody has said, and would have to, before it is known that there is one; left out: there is */
  unsaid?: string;
}

export interface PilotPressures {
  /** what is shut in at the most: the setting, warmed up as far as something lets it out [Pa] */
  shutIn: ThreeViews;
  /** it may be above the setting */
  isWarm: boolean;
  /** what stands in the unclamp line at the least, as it is to open [Pa] */
  least: ThreeViews;
  missing: readonly MissingFigure[];
  /** what stands behind it as it is to open [Pa] */
  returnPressurePa: number | null;
  /** area that the pilot's line works upon over the area that the clamp line does, the largest of its cylinders [1] */
  opposed: OpposedFigure;
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
    returnPressurePa: input.returnPressurePa ?? null,
    opposed: figures.opposed,
    missing: [...rise.missing, ...bound.missing, ...listUnknown(input, SETTING_FIELDS), ...listOfLift(lift)],
  };
}

/** No pilot opens against more than presses upon it without a larger area: a ratio is never below one. */
const RATIO_UNKNOWN: Span = { lo: 0, hi: 1 };
const ONE: Span = { lo: 1, hi: 1 };

/**
 * A piloted check valve opens once its pilot, times its ratio, has what is shut in and, on the rest of its area, what stands behind it (balance of
 * forces on its seat). What stands in the pilot's line presses upon the cylinders too: by the ratio of their areas it raises what is shut in, so
 * that a smaller ratio of the valve never opens it (both from memory). Where nothing warms up and no cylinder pulls, one of which nobody has said
 * the ratio is taken to open: the pilot has the setting too.
 */
export const listOfPilots = (piloted: readonly PilotedValve[], pilot: PilotPressures): CheckPair[] =>
  piloted.flatMap((valve) => [
    ...(pilot.isWarm || valve.pilotRatio !== null ? [toPressurePair(valve, pilot)] : []),
    ...listOfAreas(valve, pilot.opposed),
  ]);

const listOfRatio = ({ ref, pilotRatio, unsaid = 'pilotRatio' }: PilotedValve): MissingFigure[] =>
  pilotRatio === null ? [{ field: unsaid, ref }] : [];

function toPressurePair(valve: PilotedValve, pilot: PilotPressures): CheckPair {
  const { ref, pilotRatio } = valve;
  const { shutIn, least, missing, returnPressurePa } = pilot;
  const share = pilotRatio === null ? RATIO_UNKNOWN : toSpan(1 / pilotRatio);
  const behind = multiply(toSpan(returnPressurePa), subtract(ONE, share));
  const toOpen = (view: View): Span => add(multiply(shutIn[view], share), behind);
  return {
    kind: 'pressure',
    demand: { nominal: toOpen('nominal'), stated: toOpen('stated'), worstCase: toOpen('worstCase') },
    capacity: least,
    failReason: 'pilot-too-weak',
    subject: ref,
    missing: [
      ...listOfRatio(valve),
      ...listMissing({ field: 'returnPressurePa', value: returnPressurePa }),
      ...missing,
    ],
    source: 'cylinder-speed',
    isBehind: true,
  };
}

/** A cylinder that pulls is pressed further shut by its pilot than a valve of a smaller ratio opens. */
function listOfAreas(valve: PilotedValve, { ratio, missing }: OpposedFigure): CheckPair[] {
  const { ref, pilotRatio } = valve;
  if (pilotRatio === null)
    return ratio.hi < 1 ? [] : unknownPairs(listOfRatio(valve), 'pilot-too-weak', 'cylinder-speed');
  if (isAbove(ratio.lo, pilotRatio)) return [factPair(false, 'pilotRatio', 'pilot-below-areas', 'cylinder-speed', ref)];
  return isAbove(ratio.hi, pilotRatio) ? unknownPairs(missing, 'pilot-below-areas', 'cylinder-speed') : [];
}
