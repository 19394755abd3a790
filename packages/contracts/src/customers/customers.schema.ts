import { z } from 'zod';
import { idSchema, instantSchema, nameSchema, noteSchema, shortTextSchema } from '../common/ids.js';

const fields = {
  name: nameSchema,
  trade: shortTextSchema.default(''),
  contactName: shortTextSchema.default(''),
  contactEmail: z.union([z.email().max(254), z.literal('')]).default(''),
  contactPhone: shortTextSchema.default(''),
  note: noteSchema.default(''),
};

export const customerSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    trade: z.string(),
    contactName: z.string(),
    contactEmail: z.string(),
    contactPhone: z.string(),
    note: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
    /** circuits by status */
    circuits: z.record(z.string(), z.int()),
  })
  .meta({ id: 'Customer' });
export type Customer = z.infer<typeof customerSchema>;

export const createCustomerBodySchema = z.strictObject({ id: idSchema, ...fields });
export const updateCustomerBodySchema = z.strictObject({
  name: nameSchema.optional(),
  trade: shortTextSchema.optional(),
  contactName: shortTextSchema.optional(),
  contactEmail: z.union([z.email().max(254), z.literal('')]).optional(),
  contactPhone: shortTextSchema.optional(),
  note: noteSchema.optional(),
  archived: z.boolean().optional(),
});
