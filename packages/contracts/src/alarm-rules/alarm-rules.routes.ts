import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, OFFICE, STAFF } from '../common/route.js';
import { alarmRuleSchema, createAlarmRuleBodySchema, updateAlarmRuleBodySchema } from './alarm-rules.schema.js';

// The area is that of alarm counts: a key that was given for these reaches their rules.
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
