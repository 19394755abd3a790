import { z } from 'zod';
import { alarmKindSchema } from '../alarm-counts/alarm-counts.schema.js';
import { idSchema, instantSchema } from '../common/ids.js';

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
