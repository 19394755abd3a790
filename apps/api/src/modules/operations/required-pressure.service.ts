import { Injectable } from '@nestjs/common';
import { requiredOfCut, type RequiredOfCutInput } from '@repo/calc';
import { loadSolver } from '@repo/calc/solver';
import { fromRequiredOfCut, type Cut, type RequiredOfCut } from '@repo/contracts';
import { CALCULATION_VERSION } from '../sizing/index.js';
import { toCutFigures, toHoldingElements } from './cut-figures.js';

type Solver = RequiredOfCutInput['solver'];

/** What a cut asks of a fixture's clamps, as a pressure. */
@Injectable()
export class RequiredPressureService {
  private solver: Promise<Solver> | null = null;

  /** @param elements of the fixture, as they are stored */
  async compute(cut: Cut, elements: unknown): Promise<RequiredOfCut> {
    // Loaded when it is first asked for: nothing waits for it at the start.
    this.solver ??= loadSolver();
    const result = requiredOfCut({
      cut: toCutFigures(cut),
      elements: toHoldingElements(elements),
      solver: await this.solver,
    });
    return fromRequiredOfCut(result, CALCULATION_VERSION);
  }
}
