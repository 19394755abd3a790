import { z } from 'zod';
import { idSchema, instantSchema, nameSchema, noteSchema } from '../common/ids.js';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';

export const driveSchema = z.enum(['air', 'electric']);
const rules = {
  name: nameSchema,
  drive: driveSchema,
  /** lowest plant air at the regulator's inlet */
  plantAirLow: quantityOf('pressure').nullable(),
  /** highest pressure at the regulator's inlet: what the pump sees when the regulator is opened fully or creeps */
  plantAirHigh: quantityOf('pressure').nullable(),
  /** kinematic viscosity of the oil at 40 °C and at 100 °C, from its data sheet */
  oilViscosityAt40: quantityOf('kinematic-viscosity').nullable(),
  oilViscosityAt100: quantityOf('kinematic-viscosity').nullable(),
  /** at 15 °C */
  oilDensity: quantityOf('density').nullable(),
  oilBulkModulus: quantityOf('modulus').nullable(),
  /** share of air in the oil at atmosphere, 0 to 0.5 */
  oilAirFraction: z.number().min(0).max(0.5).nullable(),
  /** coldest oil to be reckoned with */
  coldOilTemperature: quantityOf('temperature').nullable(),
  workingOilTemperature: quantityOf('temperature').nullable(),
  note: noteSchema,
};

export const powerUnitSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    name: z.string(),
    drive: driveSchema,
    plantAirLow: quantityOutSchema.nullable(),
    plantAirHigh: quantityOutSchema.nullable(),
    oilViscosityAt40: quantityOutSchema.nullable(),
    oilViscosityAt100: quantityOutSchema.nullable(),
    oilDensity: quantityOutSchema.nullable(),
    oilBulkModulus: quantityOutSchema.nullable(),
    oilAirFraction: z.number().nullable(),
    coldOilTemperature: quantityOutSchema.nullable(),
    workingOilTemperature: quantityOutSchema.nullable(),
    note: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'PowerUnit' });
export type PowerUnit = z.infer<typeof powerUnitSchema>;

export const createPowerUnitBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  name: rules.name,
  drive: rules.drive,
  plantAirLow: rules.plantAirLow.default(null),
  plantAirHigh: rules.plantAirHigh.default(null),
  oilViscosityAt40: rules.oilViscosityAt40.default(null),
  oilViscosityAt100: rules.oilViscosityAt100.default(null),
  oilDensity: rules.oilDensity.default(null),
  oilBulkModulus: rules.oilBulkModulus.default(null),
  oilAirFraction: rules.oilAirFraction.default(null),
  coldOilTemperature: rules.coldOilTemperature.default(null),
  workingOilTemperature: rules.workingOilTemperature.default(null),
  note: rules.note.default(''),
});
export const updatePowerUnitBodySchema = z.strictObject({ ...rules, archived: z.boolean() }).partial();
