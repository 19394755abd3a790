import { z } from 'zod';
import { idParamsSchema, idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape, searchSchema } from '../common/paging.js';
import { defineRoutes, EVERYONE, OFFICE } from '../common/route.js';
import { createSiteBodySchema, siteSchema, updateSiteBodySchema } from './sites.schema.js';

export const sitesRoutes = defineRoutes({
  list: {
    id: 'listSites',
    method: 'GET',
    path: '/sites',
    area: 'sites',
    summary: 'List sites',
    access: EVERYONE,
    query: z.strictObject({
      ...pageQueryShape,
      customerId: idSchema.optional(),
      search: searchSchema,
    }),
    response: pageOf(siteSchema),
    status: 200,
  },
  get: {
    id: 'getSite',
    method: 'GET',
    path: '/sites/{id}',
    area: 'sites',
    summary: 'One site',
    access: EVERYONE,
    params: idParamsSchema,
    response: siteSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'createSite',
    method: 'POST',
    path: '/sites',
    area: 'sites',
    summary: 'Create a site',
    access: OFFICE,
    body: createSiteBodySchema,
    response: siteSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  update: {
    id: 'updateSite',
    method: 'PATCH',
    path: '/sites/{id}',
    area: 'sites',
    summary: 'Change a site',
    access: OFFICE,
    params: idParamsSchema,
    body: updateSiteBodySchema,
    response: siteSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
});
