import { Injectable } from '@nestjs/common';
import { CALCULATION_VERSION, type RequiredOfCutResult } from '@repo/calc';
import { fromRequiredOfCut, type Cut, type RequiredOfCut } from '@repo/contracts';
import { ComputePool } from '../../platform/compute/index.js';
import { toCutFigures, toHoldingElements } from './cut-figures.js';
import type { Question } from './required-pressure.thread.js';

const THREAD = new URL('./required-pressure.thread.js', import.meta.url);

/** What a cut asks of a fixture's clamps, as a pressure; computed in a thread. */
@Injectable()
export class RequiredPressureService {
  constructor(private readonly pool: ComputePool) {}

  /** @param elements of the fixture, as they are stored */
  async compute(cut: Cut, elements: unknown): Promise<RequiredOfCut> {
    const question: Question = { cut: toCutFigures(cut), elements: toHoldingElements(elements) };
    const result = await this.pool.run<RequiredOfCutResult>(THREAD, question);
    return fromRequiredOfCut(result, CALCULATION_VERSION);
  }
}
