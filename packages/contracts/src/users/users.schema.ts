import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';
import { ROLES } from '../common/route.js';

export const roleSchema = z.enum(ROLES);
export const pressureUnitSchema = z.enum(['bar', '[psi]', 'MPa']);
export const themeSchema = z.enum(['system', 'light', 'dark']);

export const createSessionBodySchema = z.strictObject({
  email: z.email().max(254),
  password: z.string().min(1).max(200),
  /** which membership to work under; needed only by people with several */
  membershipId: idSchema.optional(),
});

export const membershipSummarySchema = z.object({
  id: idSchema,
  role: roleSchema,
  organisationId: idSchema,
  organisationName: z.string(),
  customerId: idSchema.nullable(),
});

/** Who is signed in, as what, and how they like to read. */
export const meSchema = z
  .object({
    userId: idSchema,
    email: z.string(),
    displayName: z.string(),
    pressureUnit: pressureUnitSchema,
    theme: themeSchema,
    locale: z.string(),
    version: z.int(),
    membership: membershipSummarySchema,
    memberships: z.array(membershipSummarySchema),
    isInvented: z.boolean().meta({ description: 'the organisation holds invented demonstration data' }),
    sessionExpiresAt: instantSchema,
  })
  .meta({ id: 'Me' });
export type Me = z.infer<typeof meSchema>;

export const updateMeBodySchema = z.strictObject({
  displayName: nameSchema.optional(),
  pressureUnit: pressureUnitSchema.optional(),
  theme: themeSchema.optional(),
});

export const sessionSchema = z.object({
  id: idSchema,
  createdAt: instantSchema,
  lastSeenAt: instantSchema,
  expiresAt: instantSchema,
  userAgent: z.string(),
  isThisOne: z.boolean(),
});

export const membershipSchema = z
  .object({
    id: idSchema,
    displayName: z.string(),
    role: roleSchema,
    customerId: idSchema.nullable(),
    customerName: z.string().nullable(),
    createdAt: instantSchema,
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Membership' });
export type Membership = z.infer<typeof membershipSchema>;

export const createMembershipBodySchema = z
  .strictObject({
    id: idSchema,
    email: z.email().max(254),
    displayName: nameSchema,
    role: roleSchema,
    customerId: idSchema.nullable().default(null),
    /** the password to begin with; told to the person by whoever adds them */
    password: z.string().min(12).max(200),
  })
  .refine((b) => (b.customerId === null) === !['viewer', 'customer-administrator'].includes(b.role), {
    path: ['customerId'],
    message: 'a customer for viewers and customer administrators, none for staff',
  });

export const updateMembershipBodySchema = z.strictObject({
  displayName: nameSchema.optional(),
  role: roleSchema.optional(),
  archived: z.boolean().optional(),
});
