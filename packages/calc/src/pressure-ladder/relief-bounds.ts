import type { FigureRef, MissingFigure, PlacedRelief, PressureLadderInput } from './pressure-ladder.types.js';
import { known, subtract, toSpan, UNBOUNDED, UNKNOWN, type Span } from './span.js';

export const listReliefs = ({ relief, reliefs }: PressureLadderInput): readonly PlacedRelief[] =>
  reliefs ?? (relief ? [relief] : []);

/** Where a relief opens at the lowest. */
export const toLowestOpening = ({ openingPressurePa, openingHalfWidthPa = 0 }: PlacedRelief): Span =>
  subtract(toSpan(openingPressurePa), toSpan(openingHalfWidthPa));

/** The relief of some that lets least through at full flow, at the highest that it may; of those of which that is known. */
function findLowest(reliefs: readonly PlacedRelief[]): { ref: FigureRef; fullFlowPa: number } | null {
  return reliefs.reduce<{ ref: FigureRef; fullFlowPa: number } | null>((lowest, relief) => {
    const { ref, fullFlowPressurePa, openingHalfWidthPa = 0 } = relief;
    const fullFlowPa = known(fullFlowPressurePa) === null ? null : Number(fullFlowPressurePa) + openingHalfWidthPa;
    return fullFlowPa === null || (lowest !== null && lowest.fullFlowPa <= fullFlowPa) ? lowest : { ref, fullFlowPa };
  }, null);
}

/** What some reliefs hold back at their full flow: no more than the lowest of them. Unbounded without one. */
export function findReliefBound(reliefs: readonly PlacedRelief[]): {
  span: Span;
  relief: FigureRef | null;
  missing: readonly MissingFigure[];
} {
  if (reliefs.length === 0) return { span: UNBOUNDED, relief: null, missing: [] };
  const lowest = findLowest(reliefs);
  if (lowest !== null) return { span: toSpan(lowest.fullFlowPa), relief: lowest.ref, missing: [] };
  return { span: UNKNOWN, relief: null, missing: reliefs.map(({ ref }) => ({ field: 'fullFlowPressurePa', ref })) };
}

/** It lets out oil that is shut in and warms up. */
export const isReliefOfTrapped = ({ relievesTrappedOil, relievesBehindPump }: PlacedRelief): boolean =>
  relievesTrappedOil !== false || relievesBehindPump === true;

export const findTrappedBound = (input: PressureLadderInput): ReturnType<typeof findReliefBound> =>
  findReliefBound(listReliefs(input).filter(isReliefOfTrapped));
