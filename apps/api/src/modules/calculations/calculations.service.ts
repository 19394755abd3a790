import { Injectable } from '@nestjs/common';
import {
  calculate,
  describeRegistry,
  findCalculation,
  type CalculationDescription,
  type CalculationTools,
} from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import type { ProblemError } from '@repo/contracts';
import { AppError } from '../../platform/errors/app-error.js';

type Refusal = NonNullable<ReturnType<typeof calculate>['problems']>[number];

const toError = (problem: Refusal): ProblemError => ({
  pointer: `/${problem.field.replaceAll(/\[(\d+)\]/g, '.$1').replaceAll('.', '/')}`,
  field: problem.field,
  got: typeof problem.got === 'string' ? problem.got : (JSON.stringify(problem.got) ?? 'nothing'),
  needs: problem.needs,
  code: problem.code,
});

@Injectable()
export class CalculationsService {
  private descriptions: CalculationDescription[] | null = null;
  private tools: Promise<CalculationTools> | null = null;

  list(): { items: CalculationDescription[] } {
    this.descriptions ??= describeRegistry();
    return { items: this.descriptions };
  }

  get(id: string): CalculationDescription {
    const found = this.list().items.find((one) => one.id === id);
    if (found === undefined) throw this.unknown(id);
    return found;
  }

  async calculate(id: string, inputs: unknown): Promise<Record<string, unknown>> {
    const entry = findCalculation(id);
    if (entry === null) throw this.unknown(id);
    const run = calculate(id, inputs, entry.needsSolver ? await this.loadTools() : {});
    if (run.problems === undefined) return run.result;
    const errors = run.problems.map(toError);
    throw new AppError('calculation.problem', {
      detail: errors
        .map((error) => `${error.field}: needs ${error.needs}`)
        .join('; ')
        .slice(0, 1000),
      errors,
    });
  }

  /** The solver is loaded when it is first asked for. */
  private loadTools(): Promise<CalculationTools> {
    this.tools ??= loadSolver().then((solver) => ({ solver }));
    return this.tools;
  }

  private unknown(id: string): AppError {
    const needs = 'the id of a calculation';
    const errors = [{ pointer: '/id', field: 'id', got: id, needs, code: 'unknown-id' }];
    return new AppError('request.not_found', { detail: 'There is no such calculation.', errors });
  }
}
