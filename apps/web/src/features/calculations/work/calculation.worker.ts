// Runs calculations off the page's own thread, with the solver where one is needed. It only answers what it is asked.
import {
  calculate,
  findCalculation,
  pressureLadder,
  type CalculationTools,
  type LinearProgramSolver,
} from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import { makePlots } from '../plots/make-plots';
import type { WorkReply, WorkRequest } from './protocol';

let solver: Promise<LinearProgramSolver> | null = null;

async function toTools(id: string): Promise<CalculationTools> {
  if (findCalculation(id)?.needsSolver !== true) return {};
  solver ??= loadSolver();
  return { solver: await solver };
}

const reply = (message: WorkReply): void => self.postMessage(message);

/** Progress is worth a message when it can be seen to move. */
const LEAST_STEP = 0.01;

async function work(request: WorkRequest): Promise<void> {
  const { id, calculation } = request;
  if (request.kind === 'ladder') {
    reply({ id, kind: 'ladder', ladder: pressureLadder(request.inputs) });
    return;
  }
  const { kind, inputs } = request;
  const tools = await toTools(calculation);
  if (kind === 'plot') {
    const run = (name: string, changed: Readonly<Record<string, unknown>>): Record<string, unknown> | null =>
      calculate(name, changed, tools).result ?? null;
    reply({ id, kind: 'plots', plots: makePlots(calculation, inputs, run) });
    return;
  }
  let reportedShare = -1;
  const onProgress = (share: number): void => {
    if (share - reportedShare < LEAST_STEP) return;
    reportedShare = share;
    reply({ id, kind: 'progress', share });
  };
  const { result, problems } = calculate(calculation, inputs, { ...tools, onProgress });
  if (result !== undefined) reply({ id, kind: 'result', result });
  else reply({ id, kind: 'refused', problems: problems.map(({ field, code, needs }) => ({ field, code, needs })) });
}

self.addEventListener('message', (event: MessageEvent<WorkRequest>) => {
  void work(event.data).catch((error: unknown) => {
    // A solver that did not load may load the next time.
    solver = null;
    reply({ id: event.data.id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  });
});
