import { z } from 'zod';
import { alarmEvidenceSchema } from '../alarm-rules/alarm-rules.schema.js';
import { idSchema, instantSchema, noteSchema, shortTextSchema } from '../common/ids.js';
import { silenceEvidenceSchema } from '../sources/sources.schema.js';

export const issueKindSchema = z.enum(['check', 'alarm', 'component', 'silence', 'reported', 'other']);

export const issueSchema = z
  .object({
    id: idSchema,
    number: z.int(),
    customerId: idSchema,
    customerName: z.string(),
    machineId: idSchema.nullable(),
    machineName: z.string().nullable(),
    circuitId: idSchema.nullable(),
    circuitName: z.string().nullable(),
    checkCode: z.string().nullable(),
    kind: issueKindSchema,
    title: z.string(),
    description: z.string(),
    state: z.enum(['open', 'closed']),
    assigneeMembershipId: idSchema.nullable(),
    assigneeName: z.string().nullable(),
    closeReason: z.string(),
    openedAt: instantSchema,
    openedByName: z.string(),
    openedByCustomer: z.boolean(),
    closedAt: instantSchema.nullable(),
    closedByName: z.string(),
    version: z.int(),
  })
  .meta({ id: 'Issue' });
export type Issue = z.infer<typeof issueSchema>;

export const issueCommentSchema = z
  .object({
    id: idSchema,
    text: z.string(),
    isInternal: z.boolean(),
    writtenAt: instantSchema,
    writtenByName: z.string(),
  })
  .meta({ id: 'IssueComment' });
export type IssueComment = z.infer<typeof issueCommentSchema>;

export const issueDetailSchema = issueSchema
  .extend({
    comments: z.array(issueCommentSchema),
    /** of an issue that an alarm rule opened, for people of the integrator: what was counted, and when */
    evidence: alarmEvidenceSchema.nullable(),
    /** of an issue that was opened because reports stopped, for people of the integrator */
    silence: silenceEvidenceSchema.nullable(),
  })
  .meta({ id: 'IssueDetail' });
export type IssueDetail = z.infer<typeof issueDetailSchema>;

/** Opened on a machine (with or without one of its circuits). */
export const createIssueBodySchema = z.strictObject({
  id: idSchema,
  machineId: idSchema,
  circuitId: idSchema.nullable().default(null),
  checkCode: z.string().max(60).nullable().default(null),
  kind: issueKindSchema.default('other'),
  title: shortTextSchema.min(1).max(160),
  description: noteSchema.default(''),
});
export const updateIssueBodySchema = z.strictObject({
  title: shortTextSchema.min(1).max(160).optional(),
  description: noteSchema.optional(),
  assigneeMembershipId: idSchema.nullable().optional(),
});
export const commentIssueBodySchema = z.strictObject({
  id: idSchema,
  text: noteSchema.min(1),
  /** seen by staff only; a customer's people cannot set it */
  isInternal: z.boolean().default(false),
});
export const closeIssueBodySchema = z.strictObject({ reason: shortTextSchema.min(1) });
