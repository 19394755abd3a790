import { ATMOSPHERE_PA } from '../constants.js';
import { requireFinite } from '../errors.js';

export interface AirConsumptionInput {
  /** i: piston ratio, oil pressure over air pressure [1], 0 <= i */
  pistonRatio: number;
  /** p_air: gauge air pressure at the pump [Pa], 0 <= p_air */
  airPressurePa: number;
  /** V: oil delivered [m3], 0 <= V */
  oilVolumeM3: number;
}
export interface AirConsumptionResult {
  /** V_a: air at the standard atmosphere and the same temperature [m3] */
  freeAirM3: number;
}
/**
 * Free air that an air-driven pump uses for a volume of oil.
 *
 * @formula
 * V_a = i * V * (p_air + 101325) / 101325
 * @assumes Both strokes driven by air; dead volume ignored; same temperature.
 * @range A stalled pump uses no air but leakage. Reference conditions here: 101 325 Pa, not those of ISO 8778.
 * @throws CalcInputError not-finite: NaN or infinite input.
 * @example half-a-litre
 * in  pistonRatio=40 airPressurePa=5e5 oilVolumeM3=5e-4
 * out freeAirM3=0.1186923266716013
 * @source Ideal gas at constant temperature; areas of the stepped piston.
 */
export function airConsumption(input: AirConsumptionInput): AirConsumptionResult {
  requireFinite(input);
  const { pistonRatio, airPressurePa, oilVolumeM3 } = input;
  return { freeAirM3: (pistonRatio * oilVolumeM3 * (airPressurePa + ATMOSPHERE_PA)) / ATMOSPHERE_PA };
}
