export { CalcInputError, type CalcErrorCode, type CalcNote } from './errors.js';
export type { LinearProgram, LinearProgramAnswer, LinearProgramSolver } from './holding/linear-program.js';
export type { CalculationGroup, CalculationTools, CautionCode, RunResult } from './registry/define.js';
export type { FieldDescription } from './registry/input-fields.js';
export type { OutputDescription } from './registry/output-fields.js';
export type { Problem, ProblemCode } from './registry/problem.js';
export { calculate, describeRegistry, findCalculation, type CalculationDescription } from './registry/registry.js';
export type * from './pressure-ladder/pressure-ladder.types.js';
