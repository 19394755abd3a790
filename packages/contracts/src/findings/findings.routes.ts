import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, STAFF } from '../common/route.js';
import {
  dismissFindingBodySchema,
  FINDING_STATES,
  findingsDoneSchema,
  findingSchema,
  retryFindingBodySchema,
  settleFindingBodySchema,
} from './findings.schema.js';

// The area is that of sources: a key that was given for sources reaches their findings.
const findingErrors = [
  'request.not_found',
  'request.stale',
  'request.conflict',
  'finding.still',
  'finding.settled',
] as const;

export const findingsRoutes = defineRoutes({
  list: {
    id: 'listFindings',
    method: 'GET',
    path: '/findings',
    area: 'sources',
    summary: 'Findings, newest first',
    access: STAFF,
    query: z.strictObject({
      ...pageQueryShape,
      sourceId: idSchema.optional(),
      machineId: idSchema.optional(),
      state: z.enum([...FINDING_STATES, 'all']).default('open'),
    }),
    response: pageOf(findingSchema),
    status: 200,
  },
  get: {
    id: 'getFinding',
    method: 'GET',
    path: '/findings/{id}',
    area: 'sources',
    summary: 'One finding',
    access: STAFF,
    params: idParamsSchema,
    response: findingSchema,
    status: 200,
    etag: true,
  },
  settle: {
    id: 'settleFinding',
    method: 'POST',
    path: '/findings/{id}/settlement',
    area: 'sources',
    summary: 'Say which of the contradicting deliveries stands',
    access: ['lead', 'administrator'],
    params: idParamsSchema,
    body: settleFindingBodySchema,
    response: findingsDoneSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: findingErrors,
  },
  retry: {
    id: 'retryFinding',
    method: 'POST',
    path: '/findings/{id}/retry',
    area: 'sources',
    summary: 'Take the kept part in again',
    access: ['lead', 'administrator'],
    params: idParamsSchema,
    body: retryFindingBodySchema,
    response: findingsDoneSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: findingErrors,
  },
  dismiss: {
    id: 'dismissFinding',
    method: 'POST',
    path: '/findings/{id}/dismissal',
    area: 'sources',
    summary: 'Leave it as it stands, with a reason',
    access: ['lead', 'administrator'],
    params: idParamsSchema,
    body: dismissFindingBodySchema,
    response: findingsDoneSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: findingErrors,
  },
});
