import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';
import { externalReferenceSchema } from '../sources/sources.schema.js';

/** The longest interval that one row of counts may cover [s]: a day of local time, also when clocks are set back, twice. */
export const LONGEST_INTERVAL_S = 172_800;
/** How far the end of an interval may lie ahead of our clock [s]. */
export const AHEAD_S = 300;
/** How old the start of an interval may be [s]: two years. */
export const OLDEST_S = 63_072_000;
export const LARGEST_COUNT = 1_000_000_000;

/** A kind of alarm, as the gateway names it. */
export const ALARM_KIND = /^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$/;
export const alarmKindSchema = z.string().regex(ALARM_KIND);

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
    /** it was here before; nothing was changed */
    duplicate: z.boolean(),
    intervals: z.int(),
    findings: z.int(),
  })
  .meta({ id: 'DeliveryReceipt' });
export type DeliveryReceipt = z.infer<typeof deliveryReceiptSchema>;

/** The longest stretch that one chart may ask for [s]. */
export const LONGEST_CHART_S = 400 * 86_400;

const byKindSchema = z.record(z.string(), z.int());
export const alarmCountBucketSchema = z.object({
  start: instantSchema,
  clampCycles: z.int(),
  alarms: byKindSchema,
  /** share of the bucket that reports cover, 0 to 1 */
  coveredRatio: z.number(),
  /** intervals of the bucket that replaced an earlier revision */
  revised: z.int(),
});
export type AlarmCountBucket = z.infer<typeof alarmCountBucketSchema>;

export const alarmCountsSchema = z
  .object({
    machineId: idSchema,
    from: instantSchema,
    to: instantSchema,
    bucket: z.enum(['hour', 'day']),
    timeZone: z.string(),
    /** kinds that occur, most frequent first */
    kinds: z.array(z.string()),
    circuits: z.array(
      z.object({
        circuitId: idSchema,
        circuitName: z.string(),
        clampCycles: z.int(),
        alarms: byKindSchema,
        buckets: z.array(alarmCountBucketSchema),
        /** stretches between reports in which nothing was reported */
        gaps: z.array(z.object({ from: instantSchema, to: instantSchema })),
        revisions: z.array(
          z.object({
            from: instantSchema,
            to: instantSchema,
            revision: z.int(),
            clampCycles: z.int(),
            before: z.int(),
          }),
        ),
        openFindings: z.int(),
      }),
    ),
  })
  .meta({ id: 'AlarmCounts' });
export type AlarmCounts = z.infer<typeof alarmCountsSchema>;

const ruleShape = {
  alarmKind: alarmKindSchema.nullable().meta({ description: 'null: alarms of any kind' }),
  threshold: z.int().min(1).max(1_000_000),
  windowS: z
    .int()
    .min(60)
    .max(31 * 86_400),
  isOn: z.boolean(),
};
/** So many alarms within a window open an issue. */
export const alarmRuleSchema = z
  .object({
    id: idSchema,
    circuitId: idSchema.nullable(),
    circuitName: z.string().nullable(),
    machineName: z.string().nullable(),
    ...ruleShape,
    version: z.int(),
  })
  .meta({ id: 'AlarmRule' });
export type AlarmRule = z.infer<typeof alarmRuleSchema>;
export const createAlarmRuleBodySchema = z.strictObject({
  id: idSchema,
  circuitId: idSchema.nullable().meta({ description: 'null: for every circuit without a rule of its own' }),
  ...ruleShape,
});
export const updateAlarmRuleBodySchema = z.strictObject({
  alarmKind: ruleShape.alarmKind.optional(),
  threshold: ruleShape.threshold.optional(),
  windowS: ruleShape.windowS.optional(),
  isOn: ruleShape.isOn.optional(),
});

/** Why a rule opened an issue: the intervals, and what was counted in them. */
export const alarmEvidenceSchema = z
  .object({
    rule: z.object({ alarmKind: z.string().nullable(), threshold: z.int(), windowS: z.int() }),
    /** alarms of all intervals named */
    total: z.int(),
    /** the most within one window */
    most: z.int(),
    intervals: z.array(z.object({ from: instantSchema, to: instantSchema, count: z.int(), sourceId: idSchema })),
  })
  .meta({ id: 'AlarmEvidence' });
export type AlarmEvidence = z.infer<typeof alarmEvidenceSchema>;
