/** A linear program in columns: minimise cost·x with A·x = rhs and lower ≤ x ≤ upper. */
export interface LinearProgram {
  columnCount: number;
  rowCount: number;
  cost: Float64Array;
  columnLower: Float64Array;
  /** Infinity: no upper bound */
  columnUpper: Float64Array;
  /** lower and upper bound of each row's activity */
  rowLower: Float64Array;
  rowUpper: Float64Array;
  /** compressed columns: entries of column j are starts[j] … starts[j + 1] − 1 */
  starts: Int32Array;
  rows: Int32Array;
  values: Float64Array;
}

export type LinearProgramAnswer =
  /** rowDuals: how much the objective rises for each unit that the bound of a row rises */
  | { status: 'optimal'; objective: number; columns: Float64Array; rowDuals: Float64Array }
  | { status: 'infeasible' }
  | { status: 'unbounded' }
  | { status: 'failed'; reason: string };

/** One program that is solved again and again with other bounds; the solver may start from its last basis. */
export interface LinearProgramSession {
  solve(): LinearProgramAnswer;
  setRowBounds(lower: Float64Array, upper: Float64Array): void;
  setColumnBounds(column: number, lower: number, upper: number): void;
}

/** Synchronous; made once by `loadSolver` and handed to the calculations that need it. */
export interface LinearProgramSolver {
  /** Opens a program for the duration of `work`; its memory is given back afterwards, whatever happens. */
  withProgram<T>(program: LinearProgram, work: (session: LinearProgramSession) => T): T;
}
