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
  note: rules.note.default(''),
});
export const updatePowerUnitBodySchema = z.strictObject({ ...rules, archived: z.boolean() }).partial();
