import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';
import { linkTokenSchema } from '../users/users.schema.js';

export const identityProviderSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    issuer: z.string(),
    clientId: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    redirectUri: z.string().meta({ description: 'to be registered at the provider' }),
    version: z.int(),
  })
  .meta({ id: 'IdentityProvider' });
export type IdentityProvider = z.infer<typeof identityProviderSchema>;

const secretSchema = z.string().min(1).max(400);

export const createIdentityProviderBodySchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  issuer: z
    .url({ protocol: /^https?$/ })
    .max(400)
    .meta({ description: 'as in the discovery document; never changed' }),
  clientId: z.string().trim().min(1).max(400),
  clientSecret: secretSchema,
});
export const updateIdentityProviderBodySchema = z.strictObject({
  name: nameSchema.optional(),
  clientId: z.string().trim().min(1).max(400).optional(),
  clientSecret: secretSchema.optional(),
  archived: z.literal(true).optional(),
});

export const beginProviderSignInBodySchema = z.strictObject({ organisationId: idSchema });
export const beginProviderAcceptanceBodySchema = z.strictObject({ token: linkTokenSchema });
/** Where the browser is to go now. */
export const providerAddressSchema = z.object({ url: z.string() });
/** What the provider sent the browser back with: the whole query of the address. */
export const completeProviderSignInBodySchema = z.strictObject({ query: z.string().min(1).max(8000) });
