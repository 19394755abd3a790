import { CHECKS, MARGIN_CODES, type MarginCode } from '@repo/calc/checks';
import { z } from 'zod';
import { idSchema } from '../common/ids.js';
import { defineRoutes, STAFF } from '../common/route.js';

/** A share of the capacity, 0 up to 0.9. */
const shareSchema = z.number().min(0).max(0.9);
const isOptional = (code: MarginCode): boolean => 'isMarginOptional' in CHECKS[code];
type MarginsShape = { [Code in MarginCode]: typeof shareSchema | z.ZodDefault<typeof shareSchema> };
/** Whoever says nothing of a check that came later asks nothing of it beyond the capacity itself. */
const shape = Object.fromEntries(
  MARGIN_CODES.map((code) => [code, isOptional(code) ? shareSchema.default(0) : shareSchema]),
) as MarginsShape;

export const marginsSchema = z
  .strictObject(shape)
  .meta({ id: 'Margins', description: 'margin asked for, as a share of the capacity, per check' });
export type Margins = Record<MarginCode, number>;

/** Least probability with which a check must hold [1]. */
const probabilitySchema = z.number().min(0).max(0.9999);

export const organisationSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    marginsAsked: marginsSchema,
    leastProbability: probabilitySchema,
    isInvented: z.boolean(),
    version: z.int(),
  })
  .meta({ id: 'Organisation' });
export type Organisation = z.infer<typeof organisationSchema>;

export const organisationsRoutes = defineRoutes({
  get: {
    id: 'getOrganisation',
    method: 'GET',
    path: '/organisation',
    area: 'organisations',
    summary: 'The organisation that one works for',
    access: STAFF,
    response: organisationSchema,
    status: 200,
    etag: true,
  },
  update: {
    id: 'updateOrganisation',
    method: 'PATCH',
    path: '/organisation',
    area: 'organisations',
    summary: 'Change the margins asked for, and the least probability',
    access: ['engineer', 'administrator'],
    body: z.strictObject({ marginsAsked: marginsSchema, leastProbability: probabilitySchema.optional() }),
    response: organisationSchema,
    status: 200,
    etag: true,
    ifMatch: true,
  },
});

/** What an organisation asks of those who sign in. */
export const signInPolicySchema = z
  .object({ demandsSecondFactor: z.boolean(), version: z.int() })
  .meta({ id: 'SignInPolicy' });

export const signInPoliciesRoutes = defineRoutes({
  get: {
    id: 'getSignInPolicy',
    method: 'GET',
    path: '/sign-in-policy',
    area: 'organisations',
    summary: 'What the organisation asks of those who sign in',
    access: STAFF,
    response: signInPolicySchema,
    status: 200,
    etag: true,
  },
  update: {
    id: 'updateSignInPolicy',
    method: 'PATCH',
    path: '/sign-in-policy',
    area: 'organisations',
    summary: 'Demand a second factor of everybody, or no longer',
    access: ['administrator'],
    recentProof: true,
    body: z.strictObject({ demandsSecondFactor: z.boolean() }),
    response: signInPolicySchema,
    status: 200,
    etag: true,
    ifMatch: true,
    errors: ['request.conflict'],
  },
});
