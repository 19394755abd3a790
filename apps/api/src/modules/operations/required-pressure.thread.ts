import { parentPort } from 'node:worker_threads';
import { requiredOfCut, type RequiredOfCutInput, type RequiredOfCutResult } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';

/** A cut and what holds it, with the number by which its answer is told apart. */
export type Question = { number: number } & Omit<RequiredOfCutInput, 'solver'>;
export type Answer = { number: number } & ({ result: RequiredOfCutResult } | { failure: string });

/** Linear programs are solved here, so that a long one keeps no other request waiting. */
const solver = await loadSolver();
parentPort?.on('message', ({ number, cut, elements }: Question) => {
  let answer: Answer;
  try {
    answer = { number, result: requiredOfCut({ cut, elements, solver }) };
  } catch (error) {
    answer = { number, failure: error instanceof Error ? error.message : String(error) };
  }
  parentPort?.postMessage(answer);
});
