import { z } from 'zod';
import { idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, EVERYONE, STAFF } from '../common/route.js';
import { createServiceEventBodySchema, serviceEventSchema } from './service-events.schema.js';

export const serviceEventsRoutes = defineRoutes({
  list: {
    id: 'listServiceEvents',
    method: 'GET',
    path: '/service-events',
    area: 'visits',
    summary: 'What was done to a machine, with what was fitted, exchanged and removed, newest first',
    access: EVERYONE,
    query: z.strictObject({ ...pageQueryShape, machineId: idSchema }),
    response: pageOf(serviceEventSchema),
    status: 200,
  },
  create: {
    id: 'createServiceEvent',
    method: 'POST',
    path: '/service-events',
    area: 'visits',
    summary: 'Record what was done',
    access: STAFF,
    body: createServiceEventBodySchema,
    response: serviceEventSchema,
    status: 201,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
});
