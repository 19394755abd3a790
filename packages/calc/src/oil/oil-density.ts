import { requireFinite } from '../errors.js';

export interface OilDensityInput {
  /** rho_15: density at 15 °C [kg/m3], 0 <= rho_15 */
  densityAt15KgPerM3: number;
  /** alpha: volumetric expansion [1/K], 0 <= alpha */
  expansionCoefficientPerK: number;
  /** T: temperature of the oil [K] */
  temperatureK: number;
}
export interface OilDensityResult {
  /** rho: density at the temperature [kg/m3] */
  densityKgPerM3: number;
}
/**
 * Density of an oil at a temperature.
 *
 * @formula
 * rho = rho_15 / (1 + alpha * (T - 288.15))
 * @assumes Constant expansion; pressure left out.
 * @range Mineral hydraulic oil: 850 to 880 kg/m³ at 15 °C, alpha about 7e-4 1/K (from memory).
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example fifty-degrees
 * in  densityAt15KgPerM3=870 expansionCoefficientPerK=7e-4 temperatureK=323.15
 * out densityKgPerM3=849.194729136164
 * @source Definition of the volumetric expansion coefficient.
 */
export function oilDensity(input: OilDensityInput): OilDensityResult {
  requireFinite(input);
  const { densityAt15KgPerM3, expansionCoefficientPerK, temperatureK } = input;
  return { densityKgPerM3: densityAt15KgPerM3 / (1 + expansionCoefficientPerK * (temperatureK - 288.15)) };
}
