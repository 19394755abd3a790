import { holdingForce, type HoldingForceInput, type HoldingLoad } from './holding-force.js';
import { findStepScales, type ClampedStep, type ClampingOrder } from './clamping-steps.js';
import type { CutFigures, RequiredOfCutResult } from './required-of-cut.types.js';

/** Values of one material differ by as much between tables; friction of wet pads by as much between workpieces (common practice, no source). */
const USUAL_RATIO = 0.2;

export function spreadRatiosOf({ specificForceSpreadRatio, frictionSpreadRatio }: CutFigures) {
  return {
    specificForceRatio: specificForceSpreadRatio ?? USUAL_RATIO,
    frictionRatio: frictionSpreadRatio ?? USUAL_RATIO,
  };
}

/** The same cut in a material that resists more. */
export const resistingMore = <Cut extends CutFigures>(cut: Cut, ratio: number): Cut => ({
  ...cut,
  kc11Pa: cut.kc11Pa === null ? null : cut.kc11Pa * (1 + ratio),
  kcPa: cut.kcPa === null ? null : cut.kcPa * (1 + ratio),
});

interface Spread {
  readonly holding: ClampingOrder['holding'];
  readonly scale: number;
  readonly referencePa: number;
  readonly steps: readonly ClampedStep[];
  /** the load cases as they would be at the most of the specific cutting force */
  readonly heavier: readonly HoldingLoad[];
  readonly ratios: ReturnType<typeof spreadRatiosOf>;
}

/**
 * What the spread of specific cutting force and friction does to the required pressure, each by itself from the figures as given to the worse
 * end (JCGM 101: errors carried through the model): another case may govern there than with the figures as given, or a step of clamping.
 * Where nothing holds there, no pressure bounds it, and it is null.
 */
export function findRequiredSpread({
  holding,
  scale,
  referencePa,
  steps,
  heavier,
  ratios,
}: Spread): RequiredOfCutResult['spread'] {
  const { forceStep: _force, frictionStep: _friction, shiftM: _shift, ...plain } = holding;
  const moreThan = (change: Partial<HoldingForceInput>, inOrder: readonly (number | null)[]): number | null => {
    const scales = [holdingForce({ ...plain, ...change }).scale, ...inOrder];
    const held = scales.flatMap((one) => (one === null ? [] : [one]));
    return held.length < scales.length ? null : (Math.max(scale, ...held) - scale) * referencePa;
  };
  const slippery = <Contact extends { readonly friction: number }>(contacts: readonly Contact[]): Contact[] =>
    contacts.map((contact) => ({ ...contact, friction: contact.friction * (1 - ratios.frictionRatio) }));
  const smooth = { locators: slippery(holding.locators), clamps: slippery(holding.clamps) };
  return {
    ...ratios,
    specificForcePa: moreThan({ loads: heavier }, []),
    frictionPa: moreThan(smooth, findStepScales({ holding: { ...holding, ...smooth }, steps })),
  };
}
