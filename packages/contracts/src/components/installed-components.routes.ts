import { z } from 'zod';
import { idParamsSchema, idSchema, instantSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, STAFF } from '../common/route.js';
import { affectedCircuitSchema } from './component-types.schema.js';
import {
  installComponentBodySchema,
  installedComponentSchema,
  removeComponentBodySchema,
} from './installed-components.schema.js';

export const installedComponentsRoutes = defineRoutes({
  list: {
    id: 'listInstalledComponents',
    method: 'GET',
    path: '/installed-components',
    area: 'components',
    summary: 'Components of a machine, as on a day or with their whole history',
    access: STAFF,
    query: z.strictObject({
      ...pageQueryShape,
      machineId: idSchema.optional(),
      circuitId: idSchema.optional(),
      asOn: instantSchema.optional(),
    }),
    response: pageOf(installedComponentSchema),
    status: 200,
  },
  byLot: {
    id: 'listByLot',
    method: 'GET',
    path: '/installed-components/by-lot',
    area: 'components',
    summary: 'Where the components of a lot are, and where they were',
    access: STAFF,
    query: z.strictObject({ ...pageQueryShape, lot: z.string().trim().min(1).max(80) }),
    response: pageOf(affectedCircuitSchema),
    status: 200,
  },
  get: {
    id: 'getInstalledComponent',
    method: 'GET',
    path: '/installed-components/{id}',
    area: 'components',
    summary: 'One installed component',
    access: STAFF,
    params: idParamsSchema,
    response: installedComponentSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'installComponent',
    method: 'POST',
    path: '/installed-components',
    area: 'components',
    summary: 'Fit a component, or put it in the place of another',
    access: STAFF,
    body: installComponentBodySchema,
    response: installedComponentSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  remove: {
    id: 'removeComponent',
    method: 'POST',
    path: '/installed-components/{id}/removal',
    area: 'components',
    summary: 'Take a component out',
    access: STAFF,
    params: idParamsSchema,
    body: removeComponentBodySchema,
    response: installedComponentSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
});
