import type { PressureLadderResult } from '@repo/calc';
import type { LadderResult } from './circuits.schema.js';

/** The compiler's proof that what the calculation gives is what the contract says. */
export const fromLadderResult = (result: PressureLadderResult): LadderResult => ({
  ...result,
  rungs: [...result.rungs],
  checks: result.checks.map(({ pairs, faults, missing, ...check }) => ({
    ...check,
    missing: [...missing],
    ...(pairs === undefined ? {} : { pairs: [...pairs] }),
    ...(faults === undefined ? {} : { faults: [...faults] }),
  })),
});
