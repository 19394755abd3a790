import { ATMOSPHERE_PA } from '../constants.js';
import { requireFinite } from '../errors.js';

export interface PrechargeAtTemperatureInput {
  /** p: gauge gas pressure as set [Pa], 0 <= p */
  prechargePressurePa: number;
  /** T_1: temperature at which it was set [K], 0 < T_1 */
  temperatureK: number;
  /** T_2: temperature asked about [K], 0 < T_2 */
  newTemperatureK: number;
}
export interface PrechargeAtTemperatureResult {
  /** p_2: gauge gas pressure at the other temperature [Pa] */
  pressurePa: number;
}
/**
 * Precharge of an accumulator at another temperature than it was set at.
 *
 * @formula
 * p_2 = (p + 101325) * T_2 / T_1 - 101325
 * @assumes Ideal gas, constant gas volume, no oil inside.
 * @range Precharge is about 3 % lower for each 10 K colder.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example warm
 * in  prechargePressurePa=10e6 temperatureK=293.15 newTemperatureK=323.15
 * out pressurePa=11033736.141906874
 * @source Ideal gas at constant volume.
 */
export function prechargeAtTemperature(input: PrechargeAtTemperatureInput): PrechargeAtTemperatureResult {
  requireFinite(input);
  const { prechargePressurePa, temperatureK, newTemperatureK } = input;
  return { pressurePa: ((prechargePressurePa + ATMOSPHERE_PA) * newTemperatureK) / temperatureK - ATMOSPHERE_PA };
}
