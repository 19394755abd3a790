import type { PressureLadderResult } from '@repo/calc';
import type { PressureLadder } from './circuits.schema.js';

/** The compiler's proof that what the calculation gives is what the contract says. */
export const toPressureLadder = (result: PressureLadderResult): PressureLadder => ({
  ...result,
  rungs: [...result.rungs],
  checks: result.checks.map(({ pairs, faults, missing, ...check }) => ({
    ...check,
    missing: [...missing],
    ...(pairs === undefined ? {} : { pairs: [...pairs] }),
    ...(faults === undefined ? {} : { faults: [...faults] }),
  })),
});
