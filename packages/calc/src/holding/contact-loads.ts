import { requireThat } from '../errors.js';
import { whilePressing, type ClampedStep } from './clamping-steps.js';
import type { HoldingForceInput, HoldingLocator } from './holding-force.js';
import { toHoldingProgram } from './holding-program.js';
import { ZERO_VECTOR } from './vector.js';

/** What a support or locator bears in an operation, as far as balance tells it. */
export interface ContactLoad {
  /** the most over all load cases at the factor that holds the workpiece [N] */
  loadN: number;
  /** what it bears more for each unit of the factor above that [N] */
  perScaleN: number;
}

/** The most that one locator may bear at a factor in any balance of any load case; null: nothing bounds it, or friction has to help. */
function findMost(input: HoldingForceInput, locator: number, scale: number, isFrictionFree: boolean): number | null {
  const program = toHoldingProgram({ ...input, mostOn: { locator, isFrictionFree } });
  return input.solver.withProgram(program.program, (session) => {
    const at = scale / program.scaleUnit;
    session.setColumnBounds(0, at, at);
    let most = 0;
    for (let index = 0; index < input.loads.length; index += 1) {
      const { lower, upper } = program.toRowBounds(index);
      session.setRowBounds(lower, upper);
      const answer = session.solve();
      requireThat(answer.status !== 'failed', 'no-result', ['loads'], 'a load case that the solver can decide');
      if (answer.status !== 'optimal') return null;
      most = Math.max(most, -answer.objective);
    }
    return most * program.forceN;
  });
}

/** Friction beside a contact may take off what presses on it, and may not: it counts only where nothing balances without. */
const findBoth = (input: HoldingForceInput, locator: number, scale: number): number | null =>
  findMost(input, locator, scale, false) ?? findMost(input, locator, scale, true);

const worstOf = (loads: readonly (number | null)[]): number | null =>
  loads.some((load) => load === null) ? null : Math.max(0, ...loads.map(Number));

/**
 * What each of some supports and locators bears. Balance alone does not say how pads and supports share what presses on them: each is taken to
 * bear the most that any balance allows, as a stiff workpiece may put it there (a clamp straight above it, or two pads of four). After each
 * step of clamping some clamps press alone. Above the factor that holds, the clamps add to it: a load case and the clamps by themselves,
 * added up, balance as well.
 * @returns in the order of `asked`; null where nothing bounds it
 */
export function findContactLoads({
  holding,
  steps,
  asked,
  scale,
}: {
  readonly holding: HoldingForceInput;
  /** clamped and not cutting, after each step */
  readonly steps: readonly ClampedStep[];
  /** which of the locators, supports among them, are asked */
  readonly asked: readonly number[];
  readonly scale: number;
}): readonly (ContactLoad | null)[] {
  // What one may bear is judged against what it does bear: it does not hold the load back here.
  const locators = holding.locators.map((locator, index): HoldingLocator => {
    const { name, pointM, normal, friction } = locator;
    return asked.includes(index) ? { name, pointM, normal, friction } : locator;
  });
  const free: HoldingForceInput = { ...holding, locators, leastScale: 0 };
  const alone: HoldingForceInput = {
    ...{ ...free, partMassKg: 0, safetyFactor: 1 },
    loads: [{ forceN: ZERO_VECTOR, pointM: ZERO_VECTOR }],
    // A spring takes off as much at every factor.
    clamps: holding.clamps.map((clamp) => ({ ...clamp, backN: 0 })),
    locators: locators.map(({ name, pointM, normal, friction }) => ({ name, pointM, normal, friction })),
  };
  const standing = steps.map(({ pressing }): ClampedStep => ({ name: 'alone', pressing }));
  return asked.map((locator) => {
    const loadN = worstOf([
      findBoth(free, locator, scale),
      ...steps.map((step) => findBoth(whilePressing({ holding: free, step }), locator, scale)),
    ]);
    const perScaleN = worstOf([
      findBoth(alone, locator, 1),
      ...standing.map((step) => findBoth(whilePressing({ holding: alone, step }), locator, 1)),
    ]);
    return loadN === null || perScaleN === null ? null : { loadN, perScaleN };
  });
}
