export { CalcInputError, type CalcErrorCode, type CalcNote } from './errors.js';
export type { LinearProgram, LinearProgramAnswer, LinearProgramSolver } from './holding/linear-program.js';
export type { CalculationGroup, CalculationTools, CautionCode, RunResult } from './registry/define.js';
export type { FieldDescription } from './registry/input-fields.js';
export type { OutputDescription } from './registry/output-fields.js';
export type { Problem, ProblemCode } from './registry/problem.js';
export { calculate, describeRegistry, findCalculation, type CalculationDescription } from './registry/registry.js';
export type * from './pressure-ladder/pressure-ladder.types.js';
export { gaugeError } from './gauges/gauge-error.js';
export { cylinderForce } from './cylinders/cylinder-force.js';
export { pressureLadder } from './pressure-ladder/pressure-ladder.js';
export { CUTTING_MATERIALS, type CuttingMaterial } from './cutting/cutting-materials.js';
export {
  drillingLoads,
  millingLoads,
  tappingLoads,
  type DrillingLoadsInput,
  type MillingLoadsInput,
  type TappingLoadsInput,
} from './cutting/cut-loads.js';
export type { HoldingForceInput, HoldingForceResult, HoldingLoad } from './holding/holding-force.js';
export {
  operationRequiredPressure,
  type OperationRequiredPressureInput,
  type OperationRequiredPressureResult,
} from './holding/operation-required-pressure.js';
export {
  propagateTolerances,
  type PropagateTolerancesInput,
  type PropagateTolerancesResult,
} from './statistics/propagate-tolerances.js';
export type * from './circuit-checks/circuit-checks.types.js';
export { checkOrderAndSpeed, type OrderAndSpeedInput } from './circuit-checks/order-check.js';
export { checkHoldsWithoutSupply, type HoldsWithoutSupplyInput } from './circuit-checks/without-supply-check.js';
export {
  checkReservoir,
  checkSharedSupply,
  type ReservoirInput,
  type SharedSupplyInput,
} from './circuit-checks/supply-checks.js';
export {
  checkClampingTime,
  checkUnclamping,
  type ClampingTimeInput,
  type UnclampingInput,
} from './circuit-checks/time-checks.js';
export type * from './circuit-checks/actuation.types.js';
export type { CheckCode, CheckReason, MarginCode } from './circuit-checks/checks.js';
export { proveFormer, type FormerProofInput } from './circuit-facts/former-inputs.js';
export { checkControlWiring, type ControlWiringInput } from './circuit-checks/wiring-check.js';
export { CALCULATION_VERSION } from './calculation-version.js';
export type * from './circuit-facts/circuit-facts.types.js';
export { toInterlock } from './circuit-facts/control-input.js';
export { proveFacts } from './circuit-facts/prove-facts.js';
export { coilRelease } from './electrical/coil-release.js';
export { conductorResistance } from './electrical/conductor-resistance.js';
export {
  INTERLOCK_FAULTS,
  type InterlockFault,
  type InterlockMachine,
  type InterlockCircuit,
  type InterlockValve,
} from './interlock/interlock-model.js';
export {
  interlockProof,
  type BrokenRule,
  type InterlockProofInput,
  type InterlockProofResult,
} from './interlock/interlock-proof.js';
export { requiredOfCut } from './holding/required-of-cut.js';
export type {
  CutFigures,
  HoldingElement,
  RequiredOfCutInput,
  RequiredOfCutResult,
} from './holding/required-of-cut.types.js';
export { applyChange } from './way-out/apply-change.js';
export { findWayOut } from './way-out/find-way-out.js';
export type * from './way-out/way-out.types.js';
