import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, EVERYONE } from '../common/route.js';
import { createOperationBodySchema, operationSchema, updateOperationBodySchema } from './operations.schema.js';

export const operationsRoutes = defineRoutes({
  list: {
    id: 'listOperations',
    method: 'GET',
    path: '/operations',
    area: 'operations',
    summary: 'List operations',
    access: EVERYONE,
    query: z.strictObject({
      ...pageQueryShape,
      fixtureId: idSchema.optional(),
      current: z.enum(['true', 'false']).default('true'),
    }),
    response: pageOf(operationSchema),
    status: 200,
  },
  get: {
    id: 'getOperation',
    method: 'GET',
    path: '/operations/{id}',
    area: 'operations',
    summary: 'One operation',
    access: EVERYONE,
    params: idParamsSchema,
    response: operationSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'createOperation',
    method: 'POST',
    path: '/operations',
    area: 'operations',
    summary: 'Create an operation',
    access: ['engineer', 'administrator'],
    body: createOperationBodySchema,
    response: operationSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found'],
  },
  update: {
    id: 'updateOperation',
    method: 'PATCH',
    path: '/operations/{id}',
    area: 'operations',
    summary: 'Change an operation',
    access: ['engineer', 'administrator'],
    params: idParamsSchema,
    body: updateOperationBodySchema,
    response: operationSchema,
    status: 200,
    etag: true,
    ifMatch: true,
  },
});
