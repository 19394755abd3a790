import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';

export const externalReferenceSchema = z.string().trim().min(1).max(200);
const silentAfterSchema = z
  .int()
  .min(60)
  .max(2_592_000)
  .meta({ description: 'seconds without a word until it counts as silent' });

/** A gateway that reports alarm counts. */
export const sourceSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    /** null until its first delivery */
    lastHeardAt: instantSchema.nullable(),
    /** the gateway's clock less ours [s], at its last delivery */
    clockOffsetS: z.number().nullable(),
    silentAfterS: z.int(),
    isSilent: z.boolean(),
    machineCount: z.int(),
    openFindings: z.int(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Source' });
export type Source = z.infer<typeof sourceSchema>;

/** A secret that the gateway may sign with; its value is shown once, when it is made. */
export const sourceSecretSchema = z
  .object({ id: idSchema, createdAt: instantSchema, expiresAt: instantSchema.nullable(), isLive: z.boolean() })
  .meta({ id: 'SourceSecret' });
export type SourceSecret = z.infer<typeof sourceSecretSchema>;

export const sourceDetailSchema = sourceSchema
  .extend({
    secrets: z.array(sourceSecretSchema).meta({ description: 'without their values; empty but for administrators' }),
    /** times in the last 30 days in which nothing came for longer than `silentAfterS` */
    gaps: z.array(z.object({ from: instantSchema, to: instantSchema.nullable() })),
  })
  .meta({ id: 'SourceDetail' });
export type SourceDetail = z.infer<typeof sourceDetailSchema>;

export const createSourceBodySchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  silentAfterS: silentAfterSchema.default(7200),
});
export const updateSourceBodySchema = z.strictObject({
  name: nameSchema.optional(),
  silentAfterS: silentAfterSchema.optional(),
  archived: z.boolean().optional(),
});
export const createdSourceSchema = sourceDetailSchema
  .extend({ secret: z.string().meta({ description: 'shown this once: whsec_ and 32 random bytes in base64' }) })
  .meta({ id: 'CreatedSource' });
export const rotateSecretBodySchema = z.strictObject({
  overlapHours: z
    .number()
    .min(0)
    .max(720)
    .default(24)
    .meta({ description: 'how long the secrets before go on working' }),
});

/** What a gateway calls a machine, and the machine that is meant. */
export const sourceMachineSchema = z
  .object({
    id: idSchema,
    sourceId: idSchema,
    externalReference: z.string(),
    machineId: idSchema,
    machineName: z.string(),
    customerName: z.string(),
    createdAt: instantSchema,
  })
  .meta({ id: 'SourceMachine' });
export type SourceMachine = z.infer<typeof sourceMachineSchema>;
export const createSourceMachineBodySchema = z.strictObject({
  id: idSchema,
  externalReference: externalReferenceSchema,
  machineId: idSchema,
});

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

export const findingKindSchema = z.enum([
  'unknown-machine',
  'unknown-circuit',
  'bad-item',
  'bad-interval',
  'interval-too-long',
  'interval-ahead',
  'interval-too-old',
  'bad-revision',
  'bad-count',
  'bad-measure',
  'same-id-other-body',
  'same-revision',
  'overlap',
]);
export type FindingKind = z.infer<typeof findingKindSchema>;
export const FINDING_STATES = ['open', 'settled', 'taken-in', 'dismissed', 'superseded'] as const;

/** One of the reports that contradict each other. */
export const contenderSchema = z.object({
  sourceId: idSchema,
  webhookId: z.string(),
  from: instantSchema,
  to: instantSchema,
  revision: z.int(),
  clampCycles: z.int(),
  alarms: z.record(z.string(), z.int()),
  numbersHash: z.string(),
});
export type Contender = z.infer<typeof contenderSchema>;

/** What came in and could not be taken as it is: a person settles it. */
export const findingSchema = z
  .object({
    id: idSchema,
    sourceId: idSchema.nullable(),
    kind: findingKindSchema,
    state: z.enum(FINDING_STATES),
    /** what it is about: the machine's reference, or the circuit */
    subject: z.string(),
    webhookId: z.string(),
    circuitId: idSchema.nullable(),
    circuitName: z.string().nullable(),
    machineId: idSchema.nullable(),
    machineName: z.string().nullable(),
    foundAt: instantSchema,
    settledAt: instantSchema.nullable(),
    settlement: z.string(),
    /** reports that contradict each other; empty for other kinds */
    contenders: z.array(contenderSchema),
    /** how many parts of the delivery are kept, and the first of them as JSON */
    partCount: z.int(),
    part: z.string().nullable(),
    version: z.int(),
  })
  .meta({ id: 'Finding' });
export type Finding = z.infer<typeof findingSchema>;

export const settleFindingBodySchema = z.strictObject({
  /** the delivery that shall stand */
  sourceId: idSchema,
  webhookId: z.string().min(1).max(600),
  numbersHash: z.string().max(24).optional().meta({ description: 'only needed where one delivery contradicts itself' }),
});
export const retryFindingBodySchema = z.strictObject({
  alike: z
    .boolean()
    .default(false)
    .meta({ description: 'all open findings of the same kind and subject, up to 500 at once' }),
});
export const dismissFindingBodySchema = z.strictObject({
  reason: z.string().trim().min(1).max(400),
  alike: z.boolean().default(false),
});
export const findingsDoneSchema = z
  .object({
    finding: findingSchema,
    settled: z.int().meta({ description: 'findings settled by this' }),
    version: z.int(),
  })
  .meta({ id: 'FindingsDone' });
