import { z } from 'zod';
import { defineRoutes } from '../common/route.js';

const calculationParams = z.object({ id: z.string().max(60) });
const descriptionSchema = z.record(z.string(), z.unknown());

export const calculationsRoutes = defineRoutes({
  list: {
    id: 'listCalculations',
    method: 'GET',
    path: '/calculations',
    area: 'calculations',
    summary: 'Every calculation with its inputs, outputs, formula and sources',
    access: 'person',
    response: z.object({ items: z.array(descriptionSchema) }),
    status: 200,
  },
  get: {
    id: 'getCalculation',
    method: 'GET',
    path: '/calculations/{id}',
    area: 'calculations',
    summary: 'One calculation',
    access: 'person',
    params: calculationParams,
    response: descriptionSchema,
    status: 200,
  },
  calculate: {
    id: 'calculate',
    method: 'POST',
    path: '/calculations/{id}',
    area: 'calculations',
    summary: 'Compute; the body is the inputs, flat',
    access: 'person',
    params: calculationParams,
    body: z.record(z.string(), z.unknown()),
    response: z.record(z.string(), z.unknown()),
    status: 200,
    errors: ['calculation.problem', 'calculation.too-much', 'service.busy'],
  },
});
