import type { CircuitFacts } from '../src/circuit-facts/circuit-facts.types.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import type { ProvedCheck, MissingFigure } from '../src/pressure-ladder/pressure-ladder.types.js';
import { applyChange } from '../src/way-out/apply-change.js';
import { isAttainable, restartsBelow } from '../src/way-out/setting-levers.js';
import type { WayOut, WayOutChange } from '../src/way-out/way-out.types.js';

type End = 'lowest' | 'middle' | 'highest';
/** A figure of a change at one of its ends; where it has but one, further than that. */
function figureAt({ lowest, highest }: WayOutChange, end: End): number | undefined {
  if (lowest !== null && highest !== null) {
    return { lowest, middle: (lowest + highest) / 2, highest }[end];
  }
  const only = lowest ?? highest;
  if (only === null || end === 'middle') return only ?? undefined;
  return end === 'lowest' ? only : lowest === null ? only * 0.8 : only * 1.5;
}
const make = (facts: CircuitFacts, changes: readonly WayOutChange[], end: End): CircuitFacts =>
  changes.reduce((made, change) => applyChange(made, change, figureAt(change, end)), facts);
export const follow = (facts: CircuitFacts, changes: readonly WayOutChange[], end: End): readonly ProvedCheck[] =>
  proveFacts(make(facts, changes, end)).checks;

/** What a pump can do, and what bears on it. */
const ABILITIES: readonly (readonly [(facts: CircuitFacts) => boolean, readonly string[]])[] = [
  [isAttainable, ['setting', 'air-pressure', 'pump-ratio']],
  [restartsBelow, ['setting', 'pump-restart']],
];
/** To lift above its stall at the air set, or to start again no lower than it stops. */
export const asksTooMuch = (facts: CircuitFacts, changes: readonly WayOutChange[], end: End): boolean =>
  ABILITIES.some(
    ([isAble, codes]) => changes.some(({ code }) => codes.includes(code)) && !isAble(make(facts, changes, end)),
  );

export const nameOf = ({ field, ref }: MissingFigure): string => `${field} of ${ref?.id ?? ''} ${ref?.name ?? ''}`;
/** Checks that do not hold, nor lack what is named as to be recorded and nothing else. */
export function listWrong(checks: readonly ProvedCheck[], { records }: WayOut): string[] {
  const named = new Set(records.map(nameOf));
  return checks
    .filter(({ status, missing }) =>
      status === 'unproven'
        ? missing.length === 0 || !missing.every((one) => named.has(nameOf(one)))
        : status !== 'holds' && status !== 'not-applicable',
    )
    .map(({ code, status, reason }) => `${code} ${status} ${reason}`);
}
export const ENDS: readonly End[] = ['lowest', 'middle', 'highest'];
export const isEnough = (facts: CircuitFacts, changes: readonly WayOutChange[], wayOut: WayOut): boolean =>
  ENDS.every((end) => listWrong(follow(facts, changes, end), wayOut).length === 0 && !asksTooMuch(facts, changes, end));
