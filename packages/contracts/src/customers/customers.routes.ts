import { z } from 'zod';
import { idParamsSchema } from '../common/ids.js';
import { pageOf, pageQueryShape } from '../common/paging.js';
import { defineRoutes, EVERYONE, OFFICE } from '../common/route.js';
import { createCustomerBodySchema, customerSchema, updateCustomerBodySchema } from './customers.schema.js';

export const customersRoutes = defineRoutes({
  list: {
    id: 'listCustomers',
    method: 'GET',
    path: '/customers',
    area: 'customers',
    summary: 'List customers',
    access: EVERYONE,
    query: z.strictObject({ ...pageQueryShape, archived: z.enum(['true', 'false']).default('false') }),
    response: pageOf(customerSchema),
    status: 200,
  },
  get: {
    id: 'getCustomer',
    method: 'GET',
    path: '/customers/{id}',
    area: 'customers',
    summary: 'One customer',
    access: EVERYONE,
    params: idParamsSchema,
    response: customerSchema,
    status: 200,
    etag: true,
  },
  create: {
    id: 'createCustomer',
    method: 'POST',
    path: '/customers',
    area: 'customers',
    summary: 'Create a customer',
    access: OFFICE,
    body: createCustomerBodySchema,
    response: customerSchema,
    status: 201,
    etag: true,
    idempotent: true,
    errors: ['request.not_found', 'request.conflict'],
  },
  update: {
    id: 'updateCustomer',
    method: 'PATCH',
    path: '/customers/{id}',
    area: 'customers',
    summary: 'Change a customer',
    access: OFFICE,
    params: idParamsSchema,
    body: updateCustomerBodySchema,
    response: customerSchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
});
