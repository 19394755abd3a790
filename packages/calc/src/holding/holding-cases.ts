import { requireThat } from '../errors.js';
import type { HoldingProgram } from './holding-program.js';
import type { LinearProgramAnswer, LinearProgramSession } from './linear-program.js';

/** Digits that the solver's own tolerance leaves sure. */
export const SURE = 1e-8;

/** A case at its own least factor, which is in the program's unit. */
export interface SolvedCase {
  scale: number;
  columns: Float64Array;
  rowDuals: Float64Array;
}

function toCase(answer: LinearProgramAnswer): SolvedCase | null {
  if (answer.status === 'optimal') {
    const { objective, columns, rowDuals } = answer;
    return { scale: Math.max(0, objective), columns, rowDuals };
  }
  requireThat(answer.status === 'infeasible', 'no-result', ['loads'], 'a load case that the solver can decide');
  return null;
}

/** The least factor of one case alone; null: no factor holds it. */
export function solveCase(session: LinearProgramSession, program: HoldingProgram, index: number): SolvedCase | null {
  const { lower, upper } = program.toRowBounds(index);
  session.setRowBounds(lower, upper);
  return toCase(session.solve());
}

/** True when clamping harder never loosens: the clamps alone, without any load, stand on locators that bear any force. */
export function isAlwaysTighter(
  session: LinearProgramSession,
  { program, hasLimits, leastScale }: HoldingProgram,
): boolean {
  if (hasLimits) return false;
  const zero = new Float64Array(program.rowCount);
  const lower = zero.map((_, row) => (row < 6 ? 0 : -Infinity));
  session.setRowBounds(lower, zero);
  session.setColumnBounds(0, 1, 1);
  const answer = session.solve();
  session.setColumnBounds(0, leastScale, Infinity);
  return answer.status === 'optimal';
}

/** True when a case also holds at a factor above its own least one. */
export function holdsAt(session: LinearProgramSession, program: HoldingProgram, index: number, scale: number): boolean {
  const { lower, upper } = program.toRowBounds(index);
  session.setRowBounds(lower, upper);
  session.setColumnBounds(0, scale * (1 - SURE), scale * (1 + SURE));
  const answer = session.solve();
  session.setColumnBounds(0, program.leastScale, Infinity);
  return answer.status === 'optimal';
}
