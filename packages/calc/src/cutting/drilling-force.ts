import { isAtMost, requireFinite, requireThat, type CalcNote } from '../errors.js';
import { toSpecificForce, toThicknessNotes } from './specific-cutting-force.js';

export interface DrillingForceInput {
  /** k: specific cutting force at 1 mm by 1 mm [Pa], 0 <= k */
  kc11Pa: number;
  /** m: exponent of the chip thickness [1], 0 <= m <= 1 */
  mc: number;
  /** D: diameter of the drill [m], 0 <= D */
  diameterM: number;
  /** f: feed per turn [m], 0 < f */
  feedM: number;
  /** sigma: point angle [rad], 0 < sigma <= pi */
  pointAngleRad: number;
  /** n: speed of the spindle [Hz], 0 <= n */
  speedHz: number;
  /** eta: efficiency of the drive [1], 0 < eta <= 1 */
  efficiency: number;
  /** c: factor on the thrust, 1 on the safe side, 0.5 a sharp drill [1], 0 <= c */
  thrustFactor: number;
}
export interface DrillingForceResult {
  /** F: thrust along the drill [N] */
  thrustN: number;
  /** M: torque [N.m] */
  torqueNm: number;
  /** P: power of the drive [W] */
  powerW: number;
  notes: CalcNote[];
}
/**
 * Thrust, torque and power of drilling into the full.
 *
 * @formula
 * h = f / 2 * sin(sigma / 2)
 * k_c = k * (h * 1000)^(-m)
 * M = k_c * f * D^2 / 8
 * F = c * k_c * f * D / 2 * sin(sigma / 2)
 * P = M * 2 * pi * n / eta
 * @assumes Two lips; reference unit of the chip thickness: mm.
 * @range A wide web or a worn drill can double the thrust of a sharp one (common practice). Breaking through pulls the part up: check lifting.
 * @throws CalcInputError out-of-range: a point angle above 180°. not-finite: NaN or infinite input.
 * @example twenty-millimetres
 * in  kc11Pa=2100e6 mc=0 diameterM=0.02 feedM=2.5e-4 pointAngleRad=2.0594885173533086 speedHz=13.333333333333334 efficiency=1 thrustFactor=1
 * out torqueNm=26.25 powerW=2199.114857512855
 * @source Torque from the definition of kc; thrust: two published forms a factor of two apart, the larger by default.
 */
export function drillingForce(input: DrillingForceInput): DrillingForceResult {
  requireFinite(input);
  const { kc11Pa, mc, diameterM, feedM, pointAngleRad, speedHz, efficiency, thrustFactor } = input;
  requireThat(isAtMost(pointAngleRad, Math.PI), 'out-of-range', ['pointAngleRad'], 'at most 180 deg');
  const edge = Math.sin(pointAngleRad / 2);
  const chipThicknessM = (feedM / 2) * edge;
  const kc = toSpecificForce(kc11Pa, mc, chipThicknessM);
  const torqueNm = (kc * feedM * diameterM ** 2) / 8;
  return {
    thrustN: ((thrustFactor * kc * feedM * diameterM) / 2) * edge,
    torqueNm,
    powerW: (torqueNm * 2 * Math.PI * speedHz) / efficiency,
    notes: [...toThicknessNotes(chipThicknessM), { code: 'drill-pulls-when-breaking-through' }],
  };
}
