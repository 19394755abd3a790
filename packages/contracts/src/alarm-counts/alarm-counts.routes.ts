import { z } from 'zod';
import { idParamsSchema, idSchema, instantSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, OFFICE, STAFF } from '../common/route.js';
import {
  alarmCountsDeliverySchema,
  alarmCountsSchema,
  alarmRuleSchema,
  createAlarmRuleBodySchema,
  deliveryReceiptSchema,
  updateAlarmRuleBodySchema,
} from './alarm-counts.schema.js';

export const alarmCountsRoutes = defineRoutes({
  deliver: {
    id: 'deliverAlarmCounts',
    method: 'POST',
    path: '/sources/{id}/alarm-counts',
    area: 'alarm-counts',
    summary:
      'Report alarm counts: signed as Standard Webhooks (webhook-id, webhook-timestamp, webhook-signature); also as CloudEvents 1.0 in JSON. ' +
      'Answered once it is on disk; the same webhook-id again changes nothing',
    // No session: the signature is the right, and it is checked over the bytes as they came.
    access: 'public',
    params: idParamsSchema,
    body: alarmCountsDeliverySchema,
    response: deliveryReceiptSchema,
    status: 200,
    errors: [
      'source.signature',
      'source.gone',
      'request.too_large',
      'request.media_type',
      'request.too_many',
      'service.full',
    ],
  },
  ofMachine: {
    id: 'getAlarmCounts',
    method: 'GET',
    path: '/machines/{id}/alarm-counts',
    area: 'alarm-counts',
    summary: 'Alarms and clamp cycles of a machine over time, per circuit and kind',
    access: STAFF,
    params: idParamsSchema,
    query: z.strictObject({ from: instantSchema, to: instantSchema }),
    response: alarmCountsSchema,
    status: 200,
    errors: ['request.not_found'],
  },
});

export const alarmRulesRoutes = defineRoutes({
  list: {
    id: 'listAlarmRules',
    method: 'GET',
    path: '/alarm-rules',
    area: 'alarm-counts',
    summary: "The organisation's alarm rule, and those of single circuits",
    access: STAFF,
    query: z.strictObject({ ...pageQueryShape, machineId: idSchema.optional() }),
    response: pageOf(alarmRuleSchema),
    status: 200,
  },
  create: {
    id: 'createAlarmRule',
    method: 'POST',
    path: '/alarm-rules',
    area: 'alarm-counts',
    summary: 'A rule for one circuit, or for all that have none of their own',
    access: OFFICE,
    body: createAlarmRuleBodySchema,
    response: alarmRuleSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  update: {
    id: 'updateAlarmRule',
    method: 'PATCH',
    path: '/alarm-rules/{id}',
    area: 'alarm-counts',
    summary: 'Change a rule',
    access: OFFICE,
    params: idParamsSchema,
    body: updateAlarmRuleBodySchema,
    response: alarmRuleSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.not_found', 'request.stale'],
  },
  remove: {
    id: 'deleteAlarmRule',
    method: 'DELETE',
    path: '/alarm-rules/{id}',
    area: 'alarm-counts',
    summary: 'Take a rule away',
    access: OFFICE,
    params: idParamsSchema,
    status: 204,
    errors: ['request.not_found'],
  },
});
