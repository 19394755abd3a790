import { z } from 'zod';
import {
  provedCheckSchema,
  pressureMarksSchema,
  settingWindowSchema,
  statusSchema,
} from '../circuits/circuits.schema.js';
import { idSchema, instantSchema } from '../common/ids.js';

/** How a circuit stands, kept in step with the facts. */
export const standingSchema = z
  .object({
    circuitId: idSchema,
    circuitName: z.string(),
    machineId: idSchema,
    machineName: z.string(),
    customerId: idSchema,
    customerName: z.string(),
    siteId: idSchema,
    siteName: z.string(),
    place: z.string(),
    status: statusSchema,
    checkCode: z.string().nullable(),
    reason: z.string(),
    marks: pressureMarksSchema,
    /** all checks, the worst first */
    checks: z.array(provedCheckSchema),
    window: settingWindowSchema,
    fixtureName: z.string().nullable(),
    fixtureSince: instantSchema.nullable(),
    settingsBasis: z.enum(['as-left', 'target', 'none']),
    settingsOn: instantSchema.nullable(),
    /** alarms of the last three weeks, oldest first; null: nothing was reported in that week */
    alarmsByWeek: z.array(z.int().nullable()),
    /** since when nothing is reported of its machine although a source should; null: reports come, or nobody reports of it */
    silentSince: instantSchema.nullable(),
    openIssues: z.int(),
    computedAt: instantSchema,
    /** since when it waits to be computed anew after a change that bears on many circuits; null: it stands as things are */
    awaitsSince: instantSchema.nullable(),
  })
  .meta({ id: 'Standing' });
export type Standing = z.infer<typeof standingSchema>;

export const standingCountsSchema = z
  .object({
    holds: z.int(),
    marginal: z.int(),
    fails: z.int(),
    unproven: z.int(),
    total: z.int(),
    /** of these so many wait to be computed anew, and stand as before the last change */
    awaiting: z.int(),
  })
  .meta({ id: 'StandingCounts' });
export type StandingCounts = z.infer<typeof standingCountsSchema>;
