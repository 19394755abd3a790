import type { BlockedLine, PressureFigures } from './pressure-figures.js';
import { findTrappedBound, type findReliefBound } from './relief-bounds.js';
import { UNBOUNDED, ZERO } from './span.js';
import { toUnsaidRise, type RiseFigure } from './thermal-rise.js';

const NO_RISE: RiseFigure = { span: ZERO, missing: [] };

/** What oil on the pressing side of a blocked line rises by, shut in there at the setting and warmed up, and what lets it out. */
export function findPressing(
  { input, rise, unclampRise }: Pick<PressureFigures, 'input' | 'rise' | 'unclampRise'>,
  pressedBy: BlockedLine['pressedBy'],
): { rise: RiseFigure; bound: Pick<ReturnType<typeof findReliefBound>, 'span' | 'missing'> } {
  if (pressedBy === 'clamps') return { rise, bound: findTrappedBound(input) };
  const { canTrapOpen, unsaidOpen = [] } = input.thermal;
  // No relief of the clamp line reaches the unclamp line.
  const bound = { span: UNBOUNDED, missing: [] };
  if (canTrapOpen === true) return { rise: unclampRise, bound };
  return { rise: unsaidOpen.length > 0 ? toUnsaidRise(unclampRise, unsaidOpen) : NO_RISE, bound };
}
