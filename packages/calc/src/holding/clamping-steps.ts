import { holdsAt, solveCase } from './holding-cases.js';
import type { HoldingForceInput, HoldingLoad } from './holding-force.js';
import { toHoldingProgram, type HoldingProgram } from './holding-program.js';
import type { LinearProgramSession } from './linear-program.js';
import { ZERO_VECTOR, type Vector3 } from './vector.js';

const NOTHING_CUTS: HoldingLoad = { name: 'clamped', forceN: ZERO_VECTOR, pointM: ZERO_VECTOR };

/** Clamped and not cutting: after a step of clamping, or with all clamps pressing and the pallet turned, or moving. */
export interface ClampedStep {
  readonly name: string;
  /** the clamps that press by then */
  readonly pressing: ReadonlySet<number>;
  /** direction of the weight; left out: that in which it is clamped */
  readonly gravity?: Vector3;
  /** what its moving does to the workpiece meanwhile; left out: it stands */
  readonly loads?: readonly HoldingLoad[];
}

interface AtStep {
  readonly holding: HoldingForceInput;
  readonly step: ClampedStep;
}

/** The fixture while only these clamps press, and nothing cuts: the weight is all that loads the workpiece, unless it is moved. */
export function whilePressing({ holding, step: { pressing, gravity, loads } }: AtStep): HoldingForceInput {
  const resting = gravity === undefined ? NOTHING_CUTS : { ...NOTHING_CUTS, gravity };
  return { ...holding, loads: loads ?? [resting], clamps: holding.clamps.filter((_, index) => pressing.has(index)) };
}

function solveStep<T>(
  input: HoldingForceInput,
  step: ClampedStep,
  work: (session: LinearProgramSession, program: HoldingProgram) => T,
): T {
  const program = toHoldingProgram(whilePressing({ holding: input, step }));
  return input.solver.withProgram(program.program, (session) => work(session, program));
}

export interface ClampingOrder {
  readonly holding: HoldingForceInput & { readonly leastScale: number };
  /** in the clamping order, then as the pallet turns */
  readonly steps: readonly ClampedStep[];
}

/** Least factor at which the clamps that press after each step hold the workpiece by themselves, nothing cutting; null: none does. */
export function findStepScales({ holding, steps }: ClampingOrder): readonly (number | null)[] {
  return steps.map((step) =>
    solveStep(holding, step, (session, program) => {
      const solved = solveCase(session, program, 0);
      return solved === null ? null : solved.scale * program.scaleUnit;
    }),
  );
}

const staysAt = (holding: HoldingForceInput, step: ClampedStep, scale: number): boolean =>
  solveStep(holding, step, (session, program) =>
    (step.loads ?? [NOTHING_CUTS]).every((_, index) => holdsAt(session, program, index, scale / program.scaleUnit)),
  );

/**
 * The first step after which the workpiece tips or slides on its pads with all that the clamps are rated for, whatever a locator bears.
 * -1: it stays after each, and so it does at any factor between this one and another at which it stays.
 */
export function findTippingStep({ holding, steps }: ClampingOrder): number {
  const locators = holding.locators.map(({ name, pointM, normal, friction }) => ({ name, pointM, normal, friction }));
  return steps.findIndex((step) => !staysAt({ ...holding, locators }, step, Math.max(1, holding.leastScale)));
}

/** The first step after which a locator or support does not bear what presses on it at a factor, or the workpiece does not stay. -1: none. */
export function findOverloadedStep({ holding, steps, scale }: ClampingOrder & { readonly scale: number }): number {
  return steps.findIndex((step) => !staysAt(holding, step, scale));
}
