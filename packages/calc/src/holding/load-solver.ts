import highsModule, { type Highs, type Model } from 'highs';
import type {
  LinearProgram,
  LinearProgramAnswer,
  LinearProgramSession,
  LinearProgramSolver,
} from './linear-program.js';

// The package types its CommonJS form; its ES module's default export, which is what runs, is the loader itself.
const loadHighs = highsModule as unknown as typeof highsModule.default;

function toAnswer(highs: Highs, model: Model): LinearProgramAnswer {
  const { modelStatus } = model.run();
  const known = highs.constants.modelStatus;
  if (modelStatus === known.optimal) {
    return { status: 'optimal', objective: model.getObjectiveValue(), columns: model.getSolution().colValue };
  }
  if (modelStatus === known.infeasible) return { status: 'infeasible' };
  if (modelStatus === known.unbounded) return { status: 'unbounded' };
  return { status: 'failed', reason: `model status ${modelStatus}` };
}

function toSession(highs: Highs, model: Model, program: LinearProgram): LinearProgramSession {
  const allRows = { kind: 'range', from: 0, to: program.rowCount - 1 } as const;
  return {
    solve() {
      const answer = toAnswer(highs, model);
      if (answer.status !== 'failed') return answer;
      // A basis left by the solve before can be a bad start: once more from nothing before giving up.
      model.clearSolver();
      return toAnswer(highs, model);
    },
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
