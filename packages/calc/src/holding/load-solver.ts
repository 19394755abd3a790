import highsModule, { type Highs, type Model } from 'highs';
import type {
  LinearProgram,
  LinearProgramAnswer,
  LinearProgramSession,
  LinearProgramSolver,
} from './linear-program.js';

// The package types its CommonJS form; its ES module's default export, which is what runs, is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default;

type Statuses = Highs['constants']['modelStatus'];
/** What of a model is needed to solve it. */
export type Solvable = Pick<Model, 'run' | 'getObjectiveValue' | 'getSolution' | 'clearSolver'>;

/** A run that the solver itself gives up ends with an error of its own. */
function runModel(model: Solvable): { modelStatus: unknown } | { reason: string } {
  try {
    return model.run();
  } catch (error) {
    return { reason: String(error) };
  }
}

function toAnswer(known: Statuses, model: Solvable): LinearProgramAnswer {
  const run = runModel(model);
  if ('reason' in run) return { status: 'failed', reason: run.reason };
  const { modelStatus } = run;
  if (modelStatus === known.optimal) {
    const { colValue, rowDual } = model.getSolution();
    return { status: 'optimal', objective: model.getObjectiveValue(), columns: colValue, rowDuals: rowDual };
  }
  if (modelStatus === known.infeasible) return { status: 'infeasible' };
  if (modelStatus === known.unbounded) return { status: 'unbounded' };
  return { status: 'failed', reason: `model status ${String(modelStatus)}` };
}

/** Solves a model, twice if need be: a basis left by the solve before can be a bad start, so once more from nothing. */
export function solveModel(known: Statuses, model: Solvable): LinearProgramAnswer {
  const answer = toAnswer(known, model);
  if (answer.status !== 'failed') return answer;
  model.clearSolver();
  return toAnswer(known, model);
}

function toSession(highs: Highs, model: Model, program: LinearProgram): LinearProgramSession {
  const allRows = { kind: 'range', from: 0, to: program.rowCount - 1 } as const;
  return {
    solve: () => solveModel(highs.constants.modelStatus, model),
    setRowBounds: (lower, upper) => void model.changeRowsBounds(allRows, lower, upper),
    setColumnBounds: (column, lower, upper) => void model.changeColBounds(column, lower, upper),
  };
}

/**
 * Loads the HiGHS linear program solver (WebAssembly) once. Calculations stay pure and synchronous: they are handed it.
 * Tolerances are tightened to 1e-9, since forces are scaled to about one before they reach it.
 */
export async function loadSolver(): Promise<LinearProgramSolver> {
  const highs = await loadHighs();
  return {
    withProgram: (program, work) =>
      highs.withModel((model) => {
        model.options.set({
          output_flag: false,
          presolve: 'off',
          solver: 'simplex',
          primal_feasibility_tolerance: 1e-9,
          dual_feasibility_tolerance: 1e-9,
        });
        model.passModel({
          numCols: program.columnCount,
          numRows: program.rowCount,
          colCost: program.cost,
          colLower: program.columnLower,
          colUpper: program.columnUpper,
          rowLower: program.rowLower,
          rowUpper: program.rowUpper,
          matrix: {
            format: 'csc',
            numRows: program.rowCount,
            numCols: program.columnCount,
            starts: program.starts,
            indices: program.rows,
            values: program.values,
          },
        });
        return work(toSession(highs, model, program));
      }),
  };
}
