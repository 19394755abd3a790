import { z } from 'zod';
import { idSchema, instantSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes } from '../common/route.js';
import { subjectSchema } from './subject.schema.js';

export const auditEntrySchema = z
  .object({
    id: idSchema,
    at: instantSchema,
    actorName: z.string(),
    action: z.string(),
    entity: z.string(),
    entityId: idSchema,
    /** what the record is called today and the machine that it belongs to; null where neither is known */
    subject: subjectSchema.nullable(),
    changes: z.record(z.string(), z.unknown()).meta({
      description: 'what was said; of an edit each field with `from` and `to`: what it held before and holds now',
    }),
    /** what records that the changes mention by their ids are called today */
    names: z.record(z.string(), z.string()),
    requestId: z.string(),
    /** place in the sealed chain; null until the sealer has been, which takes seconds */
    sequence: z.int().nullable(),
    hash: z.string().nullable(),
  })
  .meta({ id: 'AuditEntry' });
export type AuditEntry = z.infer<typeof auditEntrySchema>;

export const auditEntriesRoutes = defineRoutes({
  list: {
    id: 'listAuditEntries',
    method: 'GET',
    path: '/audit-entries',
    area: 'audit',
    summary: 'Who did what, newest first',
    access: ['engineer', 'lead', 'administrator'],
    query: z.strictObject({
      ...pageQueryShape,
      entity: z.string().max(60).optional(),
      entityId: idSchema.optional(),
    }),
    response: pageOf(auditEntrySchema),
    status: 200,
  },
});
