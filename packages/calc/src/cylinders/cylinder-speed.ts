import { isBelow, requireFinite, requireThat } from '../errors.js';

export interface CylinderSpeedInput {
  /** Q: flow into the cylinder [m3/s], 0 <= Q */
  flowM3PerS: number;
  /** D: bore, the piston's diameter [m], 0 < D */
  boreM: number;
  /** d: rod diameter [m], 0 <= d < D */
  rodM: number;
}
export interface CylinderSpeedResult {
  /** v_e: speed while extending [m/s] */
  extendSpeedMPerS: number;
  /** v_r: speed while retracting [m/s] */
  retractSpeedMPerS: number;
  /** Q_e: flow out of the rod side while extending [m3/s] */
  extendReturnFlowM3PerS: number;
  /** Q_r: flow out of the piston side while retracting [m3/s] */
  retractReturnFlowM3PerS: number;
}
/**
 * Speeds of a double-acting cylinder at a flow, and what its return line must carry.
 *
 * @formula
 * A_p = pi * D^2 / 4
 * A_a = pi * (D^2 - d^2) / 4
 * v_e = Q / A_p
 * v_r = Q / A_a
 * Q_e = Q * A_a / A_p
 * Q_r = Q * A_p / A_a
 * @assumes Incompressible oil, no leakage, steady speed.
 * @range On retraction the return line carries more than the pump gives.
 * @throws CalcInputError inconsistent: the rod is not smaller than the bore. not-finite: NaN or infinite input.
 * @example six-litres-a-minute
 * in  flowM3PerS=1e-4 boreM=0.04 rodM=0.025
 * out extendSpeedMPerS=0.07957747154594767 retractReturnFlowM3PerS=1.641025641025641e-4
 * @source Continuity.
 */
export function cylinderSpeed(input: CylinderSpeedInput): CylinderSpeedResult {
  requireFinite(input);
  const { flowM3PerS, boreM, rodM } = input;
  requireThat(isBelow(rodM, boreM), 'inconsistent', ['rodM', 'boreM'], 'rod smaller than bore');
  const pistonM2 = (Math.PI * boreM ** 2) / 4;
  const annulusM2 = (Math.PI * (boreM - rodM) * (boreM + rodM)) / 4;
  return {
    extendSpeedMPerS: flowM3PerS / pistonM2,
    retractSpeedMPerS: flowM3PerS / annulusM2,
    extendReturnFlowM3PerS: (flowM3PerS * annulusM2) / pistonM2,
    retractReturnFlowM3PerS: (flowM3PerS * pistonM2) / annulusM2,
  };
}
