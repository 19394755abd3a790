import { z } from 'zod';
import { idParamsSchema, instantSchema } from '../common/ids.js';
import { defineRoutes, STAFF } from '../common/route.js';
import { alarmCountsDeliverySchema, deliveryReceiptSchema } from '../deliveries/deliveries.schema.js';
import { alarmCountsSchema } from './alarm-counts.schema.js';

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
