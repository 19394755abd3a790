import { GRAVITY_M_PER_S2 } from '../constants.js';
import { requireFinite } from '../errors.js';

export interface HydrostaticPressureInput {
  /** h: height of the column [m], 0 <= h */
  heightM: number;
  /** rho: density [kg/m3], 0 <= rho */
  densityKgPerM3: number;
}
export interface HydrostaticPressureResult {
  /** p: pressure of the column [Pa] */
  pressurePa: number;
}
/**
 * Pressure of a column of liquid.
 *
 * @formula
 * p = rho * 9.80665 * h
 * @assumes Standard gravity, constant density.
 * @range About 0.085 bar a metre of oil: it matters for suction and for return lines that rise.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example ten-metres-of-water
 * in  heightM=10 densityKgPerM3=998
 * out pressurePa=97870.367
 * @source Hydrostatics.
 */
export function hydrostaticPressure(input: HydrostaticPressureInput): HydrostaticPressureResult {
  requireFinite(input);
  return { pressurePa: input.densityKgPerM3 * GRAVITY_M_PER_S2 * input.heightM };
}
