import { solveCase } from './holding-cases.js';
import type { HoldingForceInput, HoldingLocator } from './holding-force.js';
import { toHoldingProgram } from './holding-program.js';
import { dot, toUnit, ZERO_VECTOR } from './vector.js';

/** What a support or locator bears in an operation, as far as balance tells it. */
export interface ContactLoad {
  /** the most over all load cases at the factor that holds the workpiece [N] */
  loadN: number;
  /** what it bears more for each unit of the factor above that [N] */
  perScaleN: number;
}

/** Contacts that push within 45° of a direction share what presses along it. */
const ALIKE = Math.SQRT1_2;

/** The least that the contacts which share can bear at a factor, over all load cases of the input. */
function findShare(input: HoldingForceInput, sharing: ReadonlySet<number>, scale: number): number {
  const program = toHoldingProgram({ ...input, sharing });
  return input.solver.withProgram(program.program, (session) => {
    const at = scale / program.scaleUnit;
    session.setColumnBounds(0, at, at);
    const shares = input.loads.map((_, index) => solveCase(session, program, index)?.scale ?? Infinity);
    return Math.max(...shares) * program.forceN;
  });
}

/**
 * What each of some supports and locators bears. Balance alone does not say how pads and supports share what presses on them: they are taken to share it as evenly
 * as they can, so that each bears no more than the most of them. Above the factor that holds, the clamps alone add to it:
 * a load case and the clamps by themselves, added up, balance as well.
 * @returns in the order of `asked`; null where no such balance is found
 */
export function findContactLoads({
  holding,
  asked,
  scale,
}: {
  readonly holding: HoldingForceInput;
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
  const found = new Map<string, ContactLoad | null>();
  return asked.map((contact) => {
    const normal = toUnit((locators[contact] as HoldingLocator).normal);
    const alike = locators.flatMap((other, index) => (dot(toUnit(other.normal), normal) >= ALIKE ? [index] : []));
    const key = alike.join(' ');
    const known = found.get(key);
    if (known !== undefined) return known;
    const sharing = new Set(alike);
    const [loadN, perScaleN] = [findShare(free, sharing, scale), findShare(alone, sharing, 1)];
    const load = Number.isFinite(loadN) && Number.isFinite(perScaleN) ? { loadN, perScaleN } : null;
    found.set(key, load);
    return load;
  });
}
