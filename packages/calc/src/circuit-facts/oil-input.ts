import type { ActuationInput } from '../circuit-checks/actuation.types.js';
import type { PowerUnitFacts } from './circuit-facts.types.js';

const ordered = (
  pick: (...of: number[]) => number,
  temperatureK: number | null,
  otherK: number | null,
): number | null => (temperatureK === null || otherK === null ? temperatureK : pick(temperatureK, otherK));

/** What is recorded of the oil of a power unit. What is said to be coldest is no warmer than at work: of two that are told the wrong way round either may be right. */
export const toOil = (powerUnit: PowerUnitFacts): ActuationInput['oil'] => ({
  viscosityAt40M2PerS: powerUnit.oilViscosityAt40M2PerS,
  viscosityAt100M2PerS: powerUnit.oilViscosityAt100M2PerS,
  densityKgPerM3: powerUnit.oilDensityKgPerM3,
  bulkModulusPa: powerUnit.oilBulkModulusPa,
  airFraction: powerUnit.oilAirFraction,
  coldTemperatureK: ordered(Math.min, powerUnit.coldOilTemperatureK, powerUnit.workingOilTemperatureK),
  workingTemperatureK: ordered(Math.max, powerUnit.workingOilTemperatureK, powerUnit.coldOilTemperatureK),
});
