import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, STAFF } from '../common/route.js';
import {
  createSizingRecordBodySchema,
  replaySchema,
  sizingRecordSchema,
  sizingRecordSummarySchema,
} from './sizing-records.schema.js';

export const sizingRecordsRoutes = defineRoutes({
  list: {
    id: 'listSizingRecords',
    method: 'GET',
    path: '/sizing-records',
    area: 'sizing',
    summary: 'Sizing records, newest first',
    access: STAFF,
    query: z.strictObject({ ...pageQueryShape, circuitId: idSchema.optional(), machineId: idSchema.optional() }),
    response: pageOf(sizingRecordSummarySchema),
    status: 200,
  },
  get: {
    id: 'getSizingRecord',
    method: 'GET',
    path: '/sizing-records/{id}',
    area: 'sizing',
    summary: 'One sizing record, whole',
    access: STAFF,
    params: idParamsSchema,
    response: sizingRecordSchema,
    status: 200,
  },
  create: {
    id: 'createSizingRecord',
    method: 'POST',
    path: '/sizing-records',
    area: 'sizing',
    summary: 'Make a sizing record of a circuit as it stands now',
    access: ['engineer'],
    body: createSizingRecordBodySchema,
    response: sizingRecordSchema,
    status: 201,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  replay: {
    id: 'replaySizingRecord',
    method: 'POST',
    path: '/sizing-records/{id}/replay',
    area: 'sizing',
    summary: 'Compute the record again from its own input and compare byte by byte',
    access: STAFF,
    params: idParamsSchema,
    response: replaySchema,
    status: 200,
  },
});
