import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';
import { API_KEY_ROLES } from './api-key-roles.js';

const areasSchema = z
  .array(z.string().max(40))
  .min(1)
  .max(60)
  .meta({ description: 'areas of the API that it may use, as the description tags its routes' });

export const apiKeySecretSchema = z.object({
  id: idSchema,
  createdAt: instantSchema,
  expiresAt: instantSchema.nullable(),
  lastUsedAt: instantSchema.nullable(),
});

export const apiKeySchema = z
  .object({
    id: idSchema,
    name: z.string(),
    role: z.enum(API_KEY_ROLES),
    areas: z.array(z.string()),
    mayWrite: z.boolean(),
    createdByName: z.string(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    lastUsedAt: instantSchema.nullable(),
    isLive: z
      .boolean()
      .meta({ description: 'false once it was ended, or whoever vouches for it administers no longer' }),
    secrets: z.array(apiKeySecretSchema).meta({ description: 'those that are good now' }),
    version: z.int(),
  })
  .meta({ id: 'ApiKey' });
export type ApiKey = z.infer<typeof apiKeySchema>;

export const createdApiKeySchema = apiKeySchema
  .extend({ secret: z.string().meta({ description: 'sent as Authorization: Bearer …; shown this once' }) })
  .meta({ id: 'CreatedApiKey' });
export type CreatedApiKey = z.infer<typeof createdApiKeySchema>;

export const createApiKeyBodySchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  role: z.enum(API_KEY_ROLES),
  areas: areasSchema,
  mayWrite: z.boolean().default(false),
});
export const updateApiKeyBodySchema = z.strictObject({
  name: nameSchema.optional(),
  areas: areasSchema.optional(),
  mayWrite: z.boolean().optional(),
  archived: z.boolean().optional(),
});
export const rotateApiKeyBodySchema = z.strictObject({
  overlapHours: z
    .number()
    .min(0)
    .max(24 * 30)
    .default(24)
    .meta({ description: 'how long the secret before goes on; any older one ends at once' }),
});
