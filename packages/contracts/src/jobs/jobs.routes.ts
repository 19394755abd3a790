import { z } from 'zod';
import { idParamsSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, STAFF } from '../common/route.js';
import { jobSchema, jobStateSchema } from './jobs.schema.js';

export const jobsRoutes = defineRoutes({
  list: {
    id: 'listJobs',
    method: 'GET',
    path: '/jobs',
    area: 'jobs',
    summary: 'Work in the background, the newest first',
    access: STAFF,
    query: z.strictObject({ ...pageQueryShape, state: jobStateSchema.optional(), kind: z.string().max(60).optional() }),
    response: pageOf(jobSchema),
    status: 200,
  },
  get: {
    id: 'getJob',
    method: 'GET',
    path: '/jobs/{id}',
    area: 'jobs',
    summary: 'One job: how far it is, what came of it',
    access: STAFF,
    params: idParamsSchema,
    response: jobSchema,
    status: 200,
    errors: ['request.not_found'],
  },
  cancel: {
    id: 'cancelJob',
    method: 'POST',
    path: '/jobs/{id}/cancel',
    area: 'jobs',
    summary: 'Ask a job to stop; nothing that it did stays. Who asked for it may, and an administrator',
    access: STAFF,
    params: idParamsSchema,
    response: jobSchema,
    status: 200,
    errors: ['request.not_found', 'job.not-yours', 'job.ended'],
  },
});
