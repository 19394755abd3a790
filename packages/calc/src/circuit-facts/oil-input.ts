import type { ActuationInput } from '../circuit-checks/actuation.types.js';
import type { PowerUnitFacts } from './circuit-facts.types.js';

/** What is recorded of the oil of a power unit. */
export const toOil = (powerUnit: PowerUnitFacts): ActuationInput['oil'] => ({
  viscosityAt40M2PerS: powerUnit.oilViscosityAt40M2PerS,
  viscosityAt100M2PerS: powerUnit.oilViscosityAt100M2PerS,
  densityKgPerM3: powerUnit.oilDensityKgPerM3,
  bulkModulusPa: powerUnit.oilBulkModulusPa,
  airFraction: powerUnit.oilAirFraction,
  coldTemperatureK: powerUnit.coldOilTemperatureK,
  workingTemperatureK: powerUnit.workingOilTemperatureK,
});
