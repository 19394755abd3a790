import { POWER_UNIT_FIGURES } from '@repo/calc/figures';
import { z } from 'zod';
import { answersOf, defaultsOf, rulesOf } from '../common/figure-rules.js';
import { idSchema, instantSchema, nameSchema, noteSchema } from '../common/ids.js';

export const driveSchema = z.enum(['air', 'electric']);
const rules = {
  name: nameSchema,
  drive: driveSchema,
  ...rulesOf(POWER_UNIT_FIGURES),
  note: noteSchema,
};

export const powerUnitSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    name: z.string(),
    drive: driveSchema,
    ...answersOf(POWER_UNIT_FIGURES),
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
  ...defaultsOf(POWER_UNIT_FIGURES),
  note: rules.note.default(''),
});
export const updatePowerUnitBodySchema = z.strictObject({ ...rules, archived: z.boolean() }).partial();
