'use client';

import type { CalculationDescription } from '@repo/calc';
import { routes } from '@repo/contracts';
import { useApi } from '@/lib/api/hooks';
import { isApiError } from '@/lib/api/problem';
import { parseInputs } from './link';
import type { FieldProblem } from './work/protocol';
import { useWork, type Work } from './work/use-work';

/** How a calculation stands, wherever it runs. `result` may be the one before while a new one is computed. */
export interface Outcome {
  state: 'idle' | 'running' | 'done' | 'cancelled';
  /** null: nothing is known of how far it is */
  share: number | null;
  result: Readonly<Record<string, unknown>> | null;
  refusal: readonly FieldProblem[] | null;
  error: Error | null;
  cancel: () => void;
  again: () => void;
}

/** Long ones run in the browser, off the page's own thread; the others are asked of the server, which answers at once. */
const isLong = ({ id, needsSolver }: CalculationDescription): boolean => needsSolver || id === 'clamp-sequence';

type Done = Extract<ReturnType<typeof useWork>['work'], { state: 'done' }>['reply'];

function fromWork(work: Work<Done>): Omit<Outcome, 'cancel' | 'again'> {
  const none = { share: null, result: null, refusal: null, error: null };
  if (work.state === 'idle' || work.state === 'cancelled') return { ...none, state: work.state };
  if (work.state === 'running') {
    const result = work.last?.kind === 'result' ? work.last.result : null;
    return { ...none, state: 'running', share: work.share, result };
  }
  const { reply } = work;
  return {
    ...none,
    state: 'done',
    result: reply.kind === 'result' ? reply.result : null,
    refusal: reply.kind === 'refused' ? reply.problems : null,
    error: reply.kind === 'failed' ? new Error(reply.message) : null,
  };
}

/** @param text the inputs as JSON; null: not to be run now */
export function useOutcome(calculation: CalculationDescription, text: string | null): Outcome {
  const isHere = isLong(calculation);
  const { work, cancel, again } = useWork('calculate', calculation.id, isHere ? text : null);
  const query = useApi(
    routes.calculations.calculate,
    { params: { id: calculation.id }, body: parseInputs(text) ?? {} },
    { isEnabled: !isHere && text !== null, isSticky: true },
  );
  if (isHere) return { ...fromWork(work), cancel, again };
  const refusal = isApiError(query.error) && query.error.fields.length > 0 ? query.error.fields : null;
  const isDone = text !== null && !query.isFetching;
  return {
    state: isDone ? 'done' : text === null && query.data === undefined ? 'idle' : 'running',
    share: null,
    result: query.data?.data ?? null,
    refusal: text === null ? null : refusal,
    error: refusal === null ? query.error : null,
    cancel: () => undefined,
    again: () => void query.refetch(),
  };
}
