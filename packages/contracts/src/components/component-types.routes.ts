import { z } from 'zod';
import { idParamsSchema } from '../common/ids.js';
import { pageOf, pageQueryShape, searchSchema } from '../common/paging.js';
import { defineRoutes, STAFF } from '../common/route.js';
import {
  createComponentTypeBodySchema,
  componentTypeSchema,
  updateComponentTypeBodySchema,
} from './component-types.schema.js';
import { affectedCircuitSchema, componentTypeRevisionSchema } from './component-types.schema.js';
import { componentKindSchema } from './component-kind.schema.js';

export const componentTypesRoutes = defineRoutes({
  list: {
    id: 'listComponentTypes',
    method: 'GET',
    path: '/component-types',
    area: 'components',
    summary: 'List component types',
    access: STAFF,
    query: z.strictObject({
      ...pageQueryShape,
      kind: componentKindSchema.optional(),
      search: searchSchema,
    }),
    response: pageOf(componentTypeSchema),
    status: 200,
  },
  get: {
    id: 'getComponentType',
    method: 'GET',
    path: '/component-types/{id}',
    area: 'components',
    summary: 'One component type',
    access: STAFF,
    params: idParamsSchema,
    response: componentTypeSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'createComponentType',
    method: 'POST',
    path: '/component-types',
    area: 'components',
    summary: 'Create a component type',
    access: ['engineer', 'administrator'],
    body: createComponentTypeBodySchema,
    response: componentTypeSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  update: {
    id: 'updateComponentType',
    method: 'PATCH',
    path: '/component-types/{id}',
    area: 'components',
    summary: 'Change a component type',
    access: ['engineer', 'administrator'],
    params: idParamsSchema,
    body: updateComponentTypeBodySchema,
    response: componentTypeSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
  affected: {
    id: 'listAffectedCircuits',
    method: 'GET',
    path: '/component-types/{id}/circuits',
    area: 'components',
    summary: 'Which circuits does this component type affect?',
    access: STAFF,
    params: idParamsSchema,
    query: z.strictObject({ ...pageQueryShape }),
    response: pageOf(affectedCircuitSchema),
    status: 200,
  },
  revisions: {
    id: 'listComponentTypeRevisions',
    method: 'GET',
    path: '/component-types/{id}/revisions',
    area: 'components',
    summary: 'What the figures were before',
    access: STAFF,
    params: idParamsSchema,
    response: z.object({ items: z.array(componentTypeRevisionSchema) }),
    status: 200,
  },
});
