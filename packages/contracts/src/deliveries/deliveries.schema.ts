import { z } from 'zod';
import { alarmKindSchema, LARGEST_COUNT } from '../alarm-counts/alarm-counts.schema.js';
import { idSchema, instantSchema } from '../common/ids.js';
import { findingKindSchema } from '../findings/findings.schema.js';
import { externalReferenceSchema } from '../sources/sources.schema.js';

const reportedIntervalSchema = z.object({
  circuit: z.string().min(1).max(200).meta({ description: "the circuit's name on this machine, or its id" }),
  from: instantSchema,
  to: instantSchema.meta({ description: 'half-open: [from, to), at most 48 hours' }),
  revision: z
    .int()
    .min(0)
    .max(2_147_483_647)
    .meta({ description: 'the highest for the same circuit, from and to wins' }),
  clampCycles: z.int().min(0).max(LARGEST_COUNT),
  alarms: z.record(alarmKindSchema, z.int().min(0).max(LARGEST_COUNT)),
  measures: z
    .record(alarmKindSchema, z.number())
    .optional()
    .meta({ description: 'measures of the interval, unit last in the name: clampTimeS, pumpStrokes' }),
});

/**
 * What a gateway sends. Each interval is judged by itself: what cannot be taken becomes a finding that a person sees, and the
 * delivery is acknowledged all the same.
 */
export const alarmCountsDeliverySchema = z
  .object({
    type: z.literal('alarm.counts'),
    timestamp: instantSchema,
    data: z
      .array(z.object({ machine: externalReferenceSchema, intervals: z.array(reportedIntervalSchema) }))
      .max(10_000),
  })
  .meta({ id: 'AlarmCountsDelivery' });

export const deliveryReceiptSchema = z
  .object({
    webhookId: z.string(),
    duplicate: z.boolean().meta({ description: 'the same body was here before under this id; nothing was changed' }),
    intervals: z.int(),
    findings: z.int().meta({ description: 'how many findings wait for a person because of this delivery' }),
    kinds: z.partialRecord(findingKindSchema, z.int()).meta({
      description:
        'the findings by their kind; `same-id-other-body`: the id was used before for another body, and this one is kept whole until a person takes it in',
    }),
  })
  .meta({ id: 'DeliveryReceipt' });
export type DeliveryReceipt = z.infer<typeof deliveryReceiptSchema>;

/** The receipt of a delivery; kept 30 days at least. */
export const deliverySchema = z
  .object({
    id: idSchema,
    webhookId: z.string(),
    receivedAt: instantSchema,
    /** when the gateway says that it happened */
    sentAt: instantSchema.nullable(),
    state: z.enum(['taken-in', 'in-part']),
    intervals: z.int(),
    setAside: z.int(),
  })
  .meta({ id: 'Delivery' });
export type Delivery = z.infer<typeof deliverySchema>;
