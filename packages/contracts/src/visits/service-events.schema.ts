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
/** What the records of components say by themselves, beside what people write. */
const doneKindSchema = z.enum([...serviceEventKindSchema.options, 'component-fitted', 'component-removed']);
const fittedComponentShape = { componentTypeName: z.string(), serial: z.string(), lot: z.string() };
/** A component that something was done with, and what it came in place of. */
export const doneComponentSchema = z.object({
  id: idSchema,
  designation: z.string(),
  ...fittedComponentShape,
  replaced: z.object(fittedComponentShape).nullable(),
});
export const serviceEventSchema = z
  .object({
    id: idSchema,
    customerId: idSchema,
    machineId: idSchema,
    circuitId: idSchema.nullable(),
    circuitName: z.string().nullable(),
    kind: doneKindSchema,
    occurredAt: instantSchema,
    text: z.string(),
    /** empty where a customer's people are not told who entered it */
    personName: z.string(),
    /** what was fitted, exchanged or removed; nothing of what people wrote */
    components: z.array(doneComponentSchema),
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
