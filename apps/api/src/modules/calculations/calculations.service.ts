import { Injectable } from '@nestjs/common';
import { calculate, describeRegistry, findCalculation, type CalculationDescription } from '@repo/calc';
import type { ProblemError } from '@repo/contracts';
import { ComputePool } from '../../platform/compute/index.js';
import { AppError } from '../../platform/errors/app-error.js';
import { ReadyJson } from '../../platform/http/ready-json.js';
import type { Calculated, Refusals } from './calculations.thread.js';

const THREAD = new URL('./calculations.thread.js', import.meta.url);
/** Bytes of a result; a longer one serves nobody. */
const LONGEST_RESULT = 8 * 1024 * 1024;

const toError = (problem: Refusals[number]): ProblemError => ({
  pointer: `/${problem.field.replaceAll(/\[(\d+)\]/g, '.$1').replaceAll('.', '/')}`,
  field: problem.field,
  got: typeof problem.got === 'string' ? problem.got : (JSON.stringify(problem.got) ?? 'nothing'),
  needs: problem.needs,
  code: problem.code,
});

@Injectable()
export class CalculationsService {
  private descriptions: CalculationDescription[] | null = null;

  constructor(private readonly pool: ComputePool) {}

  list(): { items: CalculationDescription[] } {
    this.descriptions ??= describeRegistry();
    return { items: this.descriptions };
  }

  get(id: string): CalculationDescription {
    const found = this.list().items.find((one) => one.id === id);
    if (found === undefined) throw this.unknown(id);
    return found;
  }

  /** What ends at once is computed here; anything else in a thread, which has its turn and its time. */
  async calculate(id: string, inputs: unknown): Promise<Record<string, unknown> | ReadyJson> {
    const entry = findCalculation(id);
    if (entry === null) throw this.unknown(id);
    if (entry.isQuick) {
      const { result, problems } = calculate(id, inputs);
      if (problems !== undefined) throw this.refused(problems);
      return result;
    }
    const calculated = await this.pool.run<Calculated>(THREAD, { id, inputs });
    if ('refusals' in calculated) throw this.refused(calculated.refusals);
    if (calculated.json.length > LONGEST_RESULT) {
      throw new AppError('calculation.too-much', {
        detail: 'The result is too long. Shorter lists give a shorter one.',
      });
    }
    return new ReadyJson(calculated.json);
  }

  private refused(problems: Refusals): AppError {
    const errors = problems.map(toError);
    return new AppError('calculation.problem', {
      detail: errors
        .map((error) => `${error.field}: needs ${error.needs}`)
        .join('; ')
        .slice(0, 1000),
      errors,
    });
  }

  private unknown(id: string): AppError {
    const needs = 'the id of a calculation';
    const errors = [{ pointer: '/id', field: 'id', got: id, needs, code: 'unknown-id' }];
    return new AppError('request.not_found', { detail: 'There is no such calculation.', errors });
  }
}
