import { requiredOfCut, type LinearProgramSolver, type RequiredOfCutInput, type RequiredOfCutResult } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';

/** A cut and what holds it. */
export type Question = Omit<RequiredOfCutInput, 'solver'>;

let loading: Promise<LinearProgramSolver> | null = null;

/** Linear programs are solved in the pool of threads, so that a long one keeps no other request waiting. */
export default async function requireInThread(question: Question): Promise<RequiredOfCutResult> {
  loading ??= loadSolver();
  return requiredOfCut({ ...question, solver: await loading });
}
