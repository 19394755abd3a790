import { holdsAt, solveCase } from './holding-cases.js';
import type { HoldingForceInput, HoldingLoad } from './holding-force.js';
import { toHoldingProgram, type HoldingProgram } from './holding-program.js';
import type { LinearProgramSession } from './linear-program.js';
import { ZERO_VECTOR } from './vector.js';

const NOTHING_CUTS: readonly HoldingLoad[] = [{ name: 'clamped', forceN: ZERO_VECTOR, pointM: ZERO_VECTOR }];

/** The fixture while only these clamps press, and nothing cuts: the weight is all that loads the workpiece. */
function whilePressing(input: HoldingForceInput, pressing: ReadonlySet<number>): HoldingForceInput {
  return { ...input, loads: NOTHING_CUTS, clamps: input.clamps.filter((_, index) => pressing.has(index)) };
}

function solveStep<T>(
  input: HoldingForceInput,
  pressing: ReadonlySet<number>,
  work: (session: LinearProgramSession, program: HoldingProgram) => T,
): T {
  const program = toHoldingProgram(whilePressing(input, pressing));
  return input.solver.withProgram(program.program, (session) => work(session, program));
}

export interface ClampingOrder {
  readonly holding: HoldingForceInput & { readonly leastScale: number };
  /** for each step of the clamping order, the clamps that press by then */
  readonly steps: readonly ReadonlySet<number>[];
}

/** Least factor at which the clamps that press after each step hold the workpiece by themselves, nothing cutting; null: none does. */
export function findStepScales({ holding, steps }: ClampingOrder): readonly (number | null)[] {
  return steps.map((pressing) =>
    solveStep(holding, pressing, (session, program) => {
      const solved = solveCase(session, program, 0);
      return solved === null ? null : solved.scale * program.scaleUnit;
    }),
  );
}

const staysAt = (holding: HoldingForceInput, pressing: ReadonlySet<number>, scale: number): boolean =>
  solveStep(holding, pressing, (session, program) => holdsAt(session, program, 0, scale / program.scaleUnit));

/**
 * The first step after which the workpiece tips or slides on its pads with all that the clamps are rated for, whatever a locator bears.
 * -1: it stays after each, and so it does at any factor between this one and another at which it stays.
 */
export function findTippingStep({ holding, steps }: ClampingOrder): number {
  const locators = holding.locators.map(({ name, pointM, normal, friction }) => ({ name, pointM, normal, friction }));
  return steps.findIndex((pressing) => !staysAt({ ...holding, locators }, pressing, Math.max(1, holding.leastScale)));
}

/** The first step after which a locator or support does not bear what presses on it at a factor, or the workpiece does not stay. -1: none. */
export function findOverloadedStep({ holding, steps, scale }: ClampingOrder & { readonly scale: number }): number {
  return steps.findIndex((pressing) => !staysAt(holding, pressing, scale));
}
