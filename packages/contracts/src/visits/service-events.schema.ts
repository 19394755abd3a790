import { z } from 'zod';
import { idSchema, instantSchema, noteSchema, shortTextSchema } from '../common/ids.js';

export const serviceEventKindSchema = z.enum([
  'installed',
  'adjusted',
  'component-exchanged',
  'fixture-changed',
  'inspected',
  'repaired',
  'oil-changed',
  'other',
]);
export const serviceEventSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    circuitId: idSchema.nullable(),
    circuitName: z.string().nullable(),
    kind: serviceEventKindSchema,
    occurredAt: instantSchema,
    text: z.string(),
    personName: z.string(),
    recordedAt: instantSchema,
  })
  .meta({ id: 'ServiceEvent' });
export type ServiceEvent = z.infer<typeof serviceEventSchema>;

export const createServiceEventBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  circuitId: idSchema.nullable().default(null),
  kind: serviceEventKindSchema,
  occurredAt: instantSchema,
  text: noteSchema.min(1),
  personName: shortTextSchema.min(1),
});
