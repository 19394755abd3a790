import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';
import { CUSTOMER_ROLES } from '../common/route.js';
import { linkTokenSchema, newPasswordSchema, oneTimeCodeSchema, roleSchema } from '../users/users.schema.js';

export const membershipSchema = z
  .object({
    id: idSchema,
    displayName: z.string(),
    role: roleSchema,
    customerId: idSchema.nullable(),
    customerName: z.string().nullable(),
    createdAt: instantSchema,
    acceptedAt: instantSchema
      .nullable()
      .meta({ description: 'when its person took it on; nobody signs in by it before' }),
    archivedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'Membership' });
export type Membership = z.infer<typeof membershipSchema>;

export const updateMembershipBodySchema = z.strictObject({
  displayName: nameSchema.optional(),
  role: roleSchema.optional(),
  archived: z.boolean().optional(),
});

/** A session of a member in this organisation, as its administrator sees it. */
export const memberSessionSchema = z.object({
  id: idSchema,
  createdAt: instantSchema,
  lastSeenAt: instantSchema,
  expiresAt: instantSchema,
  userAgent: z.string(),
});

export const INVITATION_STATES = ['open', 'accepted', 'withdrawn', 'expired'] as const;

export const invitationSchema = z
  .object({
    id: idSchema,
    email: z.string(),
    displayName: z.string(),
    role: roleSchema,
    customerId: idSchema.nullable(),
    customerName: z.string().nullable(),
    membershipId: idSchema
      .nullable()
      .meta({ description: 'the membership that it hands over, or that was made by it' }),
    createdByName: z.string(),
    createdAt: instantSchema,
    expiresAt: instantSchema,
    state: z.enum(INVITATION_STATES),
    version: z.int(),
  })
  .meta({ id: 'Invitation' });
export type Invitation = z.infer<typeof invitationSchema>;

/** The link is made of the page's own address and this token; it is shown this once. */
export const createdInvitationSchema = invitationSchema
  .extend({
    token: z.string().meta({ description: 'goes behind the # of /invitation; good once, for seven days' }),
    mailed: z.boolean(),
  })
  .meta({ id: 'CreatedInvitation' });
export type CreatedInvitation = z.infer<typeof createdInvitationSchema>;

const isForCustomer = (role: string): boolean => (CUSTOMER_ROLES as readonly string[]).includes(role);

export const createInvitationBodySchema = z
  .strictObject({
    id: idSchema,
    email: z.email().max(254),
    displayName: nameSchema,
    role: roleSchema,
    customerId: idSchema.nullable().default(null),
  })
  .refine((body) => (body.customerId === null) === !isForCustomer(body.role), {
    path: ['customerId'],
    message: 'a customer for viewers and customer administrators, none for staff',
  });

export const readInvitationBodySchema = z.strictObject({ token: linkTokenSchema });

/** What the holder of a link may know before accepting. */
export const openedInvitationSchema = z.object({
  organisationName: z.string(),
  customerName: z.string().nullable(),
  displayName: z.string(),
  email: z.string(),
  role: roleSchema,
  expiresAt: instantSchema,
  providerName: z.string().nullable().meta({ description: "the organisation's own sign-in, if it has one" }),
});
export type OpenedInvitation = z.infer<typeof openedInvitationSchema>;

/** By a new account, or by one that there is already. */
export const acceptInvitationBodySchema = z.strictObject({
  token: linkTokenSchema,
  as: z.discriminatedUnion('account', [
    z.strictObject({
      account: z.literal('new'),
      email: z.email().max(254),
      displayName: nameSchema,
      newPassword: newPasswordSchema,
    }),
    z.strictObject({
      account: z.literal('existing'),
      email: z.email().max(254),
      password: z.string().min(1).max(200),
      code: oneTimeCodeSchema.optional(),
    }),
  ]),
});
