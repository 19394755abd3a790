import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';

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
