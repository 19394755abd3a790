import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, EVERYONE, OFFICE } from '../common/route.js';
import { createPowerUnitBodySchema, powerUnitSchema, updatePowerUnitBodySchema } from './power-units.schema.js';

export const powerUnitsRoutes = defineRoutes({
  list: {
    id: 'listPowerUnits',
    method: 'GET',
    path: '/power-units',
    area: 'power-units',
    summary: 'List power units',
    access: EVERYONE,
    query: z.strictObject({ ...pageQueryShape, machineId: idSchema.optional() }),
    response: pageOf(powerUnitSchema),
    status: 200,
  },
  get: {
    id: 'getPowerUnit',
    method: 'GET',
    path: '/power-units/{id}',
    area: 'power-units',
    summary: 'One power unit',
    access: EVERYONE,
    params: idParamsSchema,
    response: powerUnitSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'createPowerUnit',
    method: 'POST',
    path: '/power-units',
    area: 'power-units',
    summary: 'Create a power unit',
    access: OFFICE,
    body: createPowerUnitBodySchema,
    response: powerUnitSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  update: {
    id: 'updatePowerUnit',
    method: 'PATCH',
    path: '/power-units/{id}',
    area: 'power-units',
    summary: 'Change a power unit',
    access: OFFICE,
    params: idParamsSchema,
    body: updatePowerUnitBodySchema,
    response: powerUnitSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
});
