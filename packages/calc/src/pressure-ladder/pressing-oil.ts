import type { BlockedLine, PressureFigures } from './pressure-figures.js';
import { findTrappedBound, type findReliefBound } from './relief-bounds.js';
import { mostOf, multiply, UNBOUNDED, ZERO, type Span } from './span.js';
import { toRise, toUnsaidRise, type RiseFigure } from './thermal-rise.js';

const NO_RISE: RiseFigure = { span: ZERO, missing: [] };

interface Pressing {
  /** of the oil that presses, shut in at the setting */
  readonly rise: RiseFigure;
  /** of the oil that is blocked, by itself */
  readonly ownRise: RiseFigure;
  /** what lets the pressing oil out */
  readonly bound: Pick<ReturnType<typeof findReliefBound>, 'span' | 'missing'>;
}

/** What warms up on both sides of a blocked line: where the pressing side is open to its supply the piston gives way, and nothing rises. */
export function findPressing(
  { input, rise, unclampRise }: Pick<PressureFigures, 'input' | 'rise' | 'unclampRise'>,
  pressedBy: BlockedLine['pressedBy'],
): Pressing {
  const { canTrap, unsaid = [], canTrapOpen, unsaidOpen = [] } = input.thermal;
  if (pressedBy === 'clamps') {
    const ownRise = !canTrap ? NO_RISE : unsaid.length > 0 ? toUnsaidRise(unclampRise, unsaid) : unclampRise;
    return { rise, ownRise, bound: findTrappedBound(input) };
  }
  // No relief of the clamp line reaches the unclamp line.
  const bound = { span: UNBOUNDED, missing: [] };
  const clampRise = toRise(input.thermal);
  if (canTrapOpen === true) return { rise: unclampRise, ownRise: clampRise, bound };
  if (unsaidOpen.length === 0) return { rise: NO_RISE, ownRise: NO_RISE, bound };
  return { rise: toUnsaidRise(unclampRise, unsaidOpen), ownRise: toUnsaidRise(clampRise, unsaidOpen), bound };
}

/**
 * What a blocked line rises by above the setting times its ratio of areas: the piston between both oils is free to move, so that by the balance of
 * volumes and of forces it lies between what the ratio makes of the pressing oil's rise, where that is much, and its own rise, where that is.
 */
export const toBlockedRise = ({ rise, ownRise }: Pressing, ratio: Span): Span =>
  mostOf(multiply(rise.span, ratio), ownRise.span);
