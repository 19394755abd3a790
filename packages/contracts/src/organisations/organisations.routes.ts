import { z } from 'zod';
import { idSchema } from '../common/ids.js';
import { defineRoutes, STAFF } from '../common/route.js';

/** A share of the capacity, 0 up to 0.9. */
const shareSchema = z.number().min(0).max(0.9);
/** What an organisation from before a check was made asks of it: nothing beyond the capacity itself. */
const NOT_ASKED = {
  'shared-supply': 0,
  'holds-without-supply': 0,
  'clamping-time': 0,
  unclamping: 0,
  'order-and-speed': 0,
  reservoir: 0,
} as const;

export const marginsSchema = z
  .strictObject({
    'holds-workpiece': shareSchema,
    'no-nuisance-stop': shareSchema,
    'setting-within-rating': shareSchema,
    'highest-within-rating': shareSchema,
    'workpiece-limit': shareSchema,
    'shared-supply': shareSchema.default(NOT_ASKED['shared-supply']),
    'holds-without-supply': shareSchema.default(NOT_ASKED['holds-without-supply']),
    'clamping-time': shareSchema.default(NOT_ASKED['clamping-time']),
    unclamping: shareSchema.default(NOT_ASKED.unclamping),
    'order-and-speed': shareSchema.default(NOT_ASKED['order-and-speed']),
    reservoir: shareSchema.default(NOT_ASKED.reservoir),
  })
  .meta({ id: 'Margins', description: 'margin asked for, as a share of the capacity, per check' });
export type Margins = z.infer<typeof marginsSchema>;
/** Margins as they are stored, with those of checks that came later. */
export const toMargins = (stored: z.input<typeof marginsSchema>): Margins => ({ ...NOT_ASKED, ...stored });

export const organisationSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    marginsAsked: marginsSchema,
    isInvented: z.boolean(),
    version: z.int(),
  })
  .meta({ id: 'Organisation' });

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
    summary: 'Change the margins asked for',
    access: ['engineer', 'administrator'],
    body: z.strictObject({ marginsAsked: marginsSchema }),
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
