import { requireFinite } from '../errors.js';

export interface AirPressureForSettingInput {
  /** i: piston ratio, oil pressure over air pressure [1], 0 < i */
  pistonRatio: number;
  /** p: gauge oil pressure wanted at stall [Pa], 0 <= p */
  pressurePa: number;
  /** eta: share of the theoretical stall pressure that is reached [1], 0 < eta <= 1 */
  efficiency: number;
}
export interface AirPressureForSettingResult {
  /** p_air: gauge air pressure to set at the regulator [Pa] */
  airPressurePa: number;
}
/**
 * Air pressure at which an air-driven pump stalls at a wanted oil pressure.
 *
 * @formula
 * p_air = p / (i * eta)
 * @assumes Static balance of the stepped piston.
 * @range Efficiency 0.9 to 1 (common practice, no source). Check the result against the lowest plant air.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example plain
 * in  pistonRatio=35 pressurePa=17.5e6 efficiency=1
 * out airPressurePa=5e5
 * @source Balance of forces on the stepped piston.
 */
export function airPressureForSetting(input: AirPressureForSettingInput): AirPressureForSettingResult {
  requireFinite(input);
  return { airPressurePa: input.pressurePa / (input.pistonRatio * input.efficiency) };
}
