import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';

export const passkeySchema = z
  .object({ id: idSchema, name: z.string(), createdAt: instantSchema, lastUsedAt: instantSchema.nullable() })
  .meta({ id: 'Passkey' });
export type Passkey = z.infer<typeof passkeySchema>;

/** What the browser's own function for public-key credentials is given. */
export const passkeyOptionsSchema = z.object({
  challengeId: idSchema,
  options: z.record(z.string(), z.unknown()).meta({ description: 'Web Authentication Level 3, as JSON' }),
});

/** What that function gave, as JSON. */
const credentialSchema = z.object({
  id: z.string().min(1).max(1400),
  rawId: z.string().min(1).max(1400),
  type: z.literal('public-key'),
  response: z.record(z.string().max(60), z.unknown()),
  clientExtensionResults: z.record(z.string().max(60), z.unknown()).default({}),
  authenticatorAttachment: z.string().max(40).optional(),
});

export const createPasskeyBodySchema = z.strictObject({
  challengeId: idSchema,
  name: nameSchema,
  credential: credentialSchema,
});
export const usePasskeyBodySchema = z.strictObject({
  challengeId: idSchema,
  credential: credentialSchema,
  /** which membership to work under; needed only by people with several */
  membershipId: idSchema.optional(),
});
export const provePasskeyBodySchema = z.strictObject({ challengeId: idSchema, credential: credentialSchema });
