import { requireFinite } from '../errors.js';

export interface TrappedOilThermalRiseInput {
  /** dT: change of temperature, cooling is negative [K] */
  temperatureRiseK: number;
  /** alpha: volumetric expansion of the oil [1/K], 0 <= alpha */
  expansionCoefficientPerK: number;
  /** K: bulk modulus of the oil [Pa], 0 < K */
  bulkModulusPa: number;
  /** alpha_w: volumetric expansion of the walls [1/K], 0 <= alpha_w */
  wallExpansionPerK: number;
  /** K_c: modulus of the container [Pa], 0 < K_c; left out: rigid */
  containerModulusPa?: number | undefined;
}
export interface TrappedOilThermalRiseResult {
  /** dp: change of pressure [Pa] */
  pressureRisePa: number;
}
/**
 * Change of pressure of oil that is shut in while its temperature changes.
 *
 * @formula
 * dp = (alpha - alpha_w) * dT / (1 / K + 1 / K_c)
 * @assumes Volume shut in without a leak or relief; oil and walls at one temperature; constant moduli.
 * @range Mineral oil: alpha about 7e-4 1/K, K 1.4 to 1.9 GPa (from memory); about 11 bar/K. Air or hose lower it a lot.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example with-walls
 * in  temperatureRiseK=10 expansionCoefficientPerK=7e-4 bulkModulusPa=1.6e9 wallExpansionPerK=3.6e-5 containerModulusPa=1e9
 * out pressureRisePa=4086153.846153846
 * @source Balance of volumes; published example: 300 000 psi, 0.00046 1/°F, 70 to 120 °F give 6900 psi.
 */
export function trappedOilThermalRise(input: TrappedOilThermalRiseInput): TrappedOilThermalRiseResult {
  requireFinite(input);
  const { temperatureRiseK, expansionCoefficientPerK, bulkModulusPa, wallExpansionPerK, containerModulusPa } = input;
  const compliance = 1 / bulkModulusPa + (containerModulusPa === undefined ? 0 : 1 / containerModulusPa);
  return { pressureRisePa: ((expansionCoefficientPerK - wallExpansionPerK) * temperatureRiseK) / compliance };
}
