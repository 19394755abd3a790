import { loadSolver, solveModel, type Solvable } from '../src/holding/load-solver.js';
import type { LinearProgram } from '../src/holding/linear-program.js';

/** one column x in [0, ∞), one row x */
const aProgram = (change: Partial<LinearProgram>): LinearProgram => ({
  columnCount: 1,
  rowCount: 1,
  cost: Float64Array.from([1]),
  columnLower: Float64Array.from([0]),
  columnUpper: Float64Array.from([Infinity]),
  rowLower: Float64Array.from([2]),
  rowUpper: Float64Array.from([Infinity]),
  starts: Int32Array.from([0, 1]),
  rows: Int32Array.from([0]),
  values: Float64Array.from([1]),
  ...change,
});

test('optimal, infeasible and unbounded are told apart; bounds can be changed', async () => {
  const solver = await loadSolver();
  const status = (change: Partial<LinearProgram>): string =>
    solver.withProgram(aProgram(change), (session) => session.solve().status);
  expect(status({})).toBe('optimal');
  expect(status({ columnUpper: Float64Array.from([1]) })).toBe('infeasible');
  expect(status({ cost: Float64Array.from([-1]) })).toBe('unbounded');
  const again = solver.withProgram(aProgram({}), (session) => {
    session.setRowBounds(Float64Array.from([5]), Float64Array.from([9]));
    const higher = session.solve();
    session.setColumnBounds(0, 7, 8);
    return [higher, session.solve()].map((answer) => (answer.status === 'optimal' ? answer.objective : answer.status));
  });
  expect(again).toEqual([5, 7]);
});

test('a limit that ends the solve early is not an answer', async () => {
  const solver = await loadSolver();
  // Infinite costs are refused by the solver's own checks: it reports neither an optimum nor its absence.
  expect(() =>
    solver.withProgram(aProgram({ cost: Float64Array.from([Number.NaN]) }), (session) => session.solve()),
  ).toThrow();
});

test('a run that ends with an error of the solver is a solve that failed, and tells why', () => {
  const model = {
    run: () => {
      throw new Error('gave up');
    },
    clearSolver: () => undefined,
  };
  const answer = solveModel({} as Parameters<typeof solveModel>[0], model as unknown as Solvable);
  expect(answer).toEqual({ status: 'failed', reason: 'Error: gave up' });
});

test('a solve that gives up is tried once more from nothing, and its reason is told', () => {
  const known = { optimal: 7, infeasible: 8, unbounded: 10 } as unknown as Parameters<typeof solveModel>[0];
  const run = (statuses: number[]): [ReturnType<typeof solveModel>, number] => {
    let cleared = 0;
    const model = {
      run: () => ({ modelStatus: statuses.shift() }),
      clearSolver: () => (cleared += 1),
      getObjectiveValue: () => 4,
      getSolution: () => ({ colValue: Float64Array.from([4]), rowDual: Float64Array.from([1]) }),
    };
    return [solveModel(known, model as unknown as Solvable), cleared];
  };
  const optimal = {
    status: 'optimal',
    objective: 4,
    columns: Float64Array.from([4]),
    rowDuals: Float64Array.from([1]),
  };
  expect(run([7])).toEqual([optimal, 0]);
  expect(run([4, 7])).toEqual([optimal, 1]);
  expect(run([4, 13])).toEqual([{ status: 'failed', reason: 'model status 13' }, 1]);
});
