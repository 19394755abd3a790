import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';
import { textOf } from '../common/texts.js';

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
    subjectCount: z.int().default(1).meta({
      description: 'about how many machines, circuits or entries of the delivery it is; many of one kind are one',
    }),
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
  interval: z.strictObject({ from: instantSchema, to: instantSchema }).optional().meta({
    description:
      'only needed where one delivery contradicts itself in many intervals: each is chosen by itself, and the finding keeps the others',
  }),
});
export const retryFindingBodySchema = z.strictObject({
  alike: z
    .boolean()
    .default(false)
    .meta({ description: 'all open findings of the same kind and subject, up to 500 at once' }),
});
export const dismissFindingBodySchema = z.strictObject({
  reason: textOf(400).min(1),
  alike: z.boolean().default(false),
});
export const findingsDoneSchema = z
  .object({
    finding: findingSchema,
    settled: z.int().meta({
      description:
        'findings settled by this; 0 where one keeps others: parts that could not be taken in, intervals that nobody has chosen in',
    }),
    version: z.int(),
  })
  .meta({ id: 'FindingsDone' });
