import { z } from 'zod';
import { statusSchema } from '../circuits/circuits.schema.js';
import { idSchema } from '../common/ids.js';
import { pageOf, pageQueryShape, searchSchema } from '../common/paging.js';
import { defineRoutes, EVERYONE } from '../common/route.js';
import { standingCountsSchema, standingSchema } from './standings.schema.js';

/** `need` is everything that is not plainly right. */
export const standingFilterSchema = z.union([statusSchema, z.enum(['need', 'all'])]);

export const standingsRoutes = defineRoutes({
  list: {
    id: 'listStandings',
    method: 'GET',
    path: '/circuits/standings',
    area: 'standings',
    summary: 'How every circuit stands, the worst first',
    access: EVERYONE,
    query: z.strictObject({
      ...pageQueryShape,
      status: standingFilterSchema.default('all'),
      customerId: idSchema.optional(),
      /** words that begin a machine, customer, site, serial, component, designation or lot */
      search: searchSchema,
    }),
    response: pageOf(standingSchema),
    status: 200,
  },
  counts: {
    id: 'countStandings',
    method: 'GET',
    path: '/circuits/standing-counts',
    area: 'standings',
    summary: 'Circuits by status',
    access: EVERYONE,
    query: z.strictObject({ customerId: idSchema.optional() }),
    response: standingCountsSchema,
    status: 200,
  },
});
