import type { PressureLadderInput, PressureLadderResult } from '@repo/calc';
import type { PlotData } from '../plots/plot-data';

/** What a page asks of the worker. */
export type WorkRequest =
  | { id: number; kind: 'calculate' | 'plot'; calculation: string; inputs: Readonly<Record<string, unknown>> }
  | { id: number; kind: 'ladder'; calculation: string; inputs: PressureLadderInput };

/** What is wrong with an input: the rule that it breaks, and what it needs as the documentation of the calculations says it. */
export interface FieldProblem {
  field: string;
  code: string;
  needs: string;
}

export type WorkReply =
  | { id: number; kind: 'progress'; share: number }
  | { id: number; kind: 'result'; result: Readonly<Record<string, unknown>> }
  | { id: number; kind: 'refused'; problems: readonly FieldProblem[] }
  | { id: number; kind: 'ladder'; ladder: PressureLadderResult }
  | { id: number; kind: 'plots'; plots: readonly PlotData[] }
  | { id: number; kind: 'failed'; message: string };
