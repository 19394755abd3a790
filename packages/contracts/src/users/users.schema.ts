import { z } from 'zod';
import { idSchema, instantSchema, nameSchema } from '../common/ids.js';
import { ROLES } from '../common/route.js';

export const roleSchema = z.enum(ROLES);
export const pressureUnitSchema = z.enum(['bar', '[psi]', 'MPa']);
export const themeSchema = z.enum(['system', 'light', 'dark']);

/** six digits, or a recovery code */
export const oneTimeCodeSchema = z.string().trim().min(6).max(40);
/** what a link carries behind its #: 256 random bits */
export const linkTokenSchema = z.string().regex(/^[A-Za-z0-9_-]{43}$/, 'a whole link');

/** How it was proved who asks: a person by one of the first three, a program by its key. */
export const SESSION_METHODS = ['password', 'passkey', 'provider', 'key'] as const;

export const createSessionBodySchema = z.strictObject({
  email: z.email().max(254),
  password: z.string().min(1).max(200),
  /** which membership to work under; needed only by people with several */
  membershipId: idSchema.optional(),
  /** one-time or recovery code, for accounts with a second factor */
  code: oneTimeCodeSchema.optional(),
});

/** That it is still the person who signed in. */
export const createProofBodySchema = z.strictObject({
  password: z.string().min(1).max(200),
  code: oneTimeCodeSchema.optional(),
});

/** 8 to 128 characters; further rules (common, repeated, made of the e-mail's name) are checked by the server. */
export const newPasswordSchema = z
  .string()
  .max(512)
  .refine((text) => [...text].length >= 8 && [...text].length <= 128, { message: '8 to 128 characters' });

export const changePasswordBodySchema = z.strictObject({
  currentPassword: z.string().min(1).max(200),
  newPassword: newPasswordSchema,
});
export const createPasswordResetBodySchema = z.strictObject({ email: z.email().max(254) });
export const resetPasswordBodySchema = z.strictObject({ token: linkTokenSchema, newPassword: newPasswordSchema });

export const createAddressProofBodySchema = z.strictObject({ email: z.email().max(254) });
export const completeAddressProofBodySchema = z.strictObject({ token: linkTokenSchema });
/** `mailed` is false where the installation has no way to send messages. */
export const mailedSchema = z.object({ mailed: z.boolean() });

/** What a person can be told about their account. */
export const NOTICE_KINDS = [
  'signed-in-on-new-device',
  'code-guessed',
  'password-changed',
  'password-reset',
  'address-changed',
  'membership-accepted',
  'membership-changed',
  'membership-ended',
  'membership-handed-over',
  'membership-waits',
  'membership-kept',
  'member-waits',
  'authenticator-added',
  'authenticator-removed',
  'recovery-code-used',
  'recovery-codes-renewed',
  'passkey-added',
  'passkey-removed',
] as const;
export type NoticeKind = (typeof NOTICE_KINDS)[number];

export const noticeSchema = z
  .object({
    id: idSchema,
    kind: z.enum(NOTICE_KINDS),
    details: z.record(z.string(), z.string()),
    createdAt: instantSchema,
    seenAt: instantSchema.nullable(),
  })
  .meta({ id: 'Notice' });
export type Notice = z.infer<typeof noticeSchema>;

export const switchMembershipBodySchema = z.strictObject({ membershipId: idSchema });

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
    emailProven: z.boolean().meta({ description: 'the address was proven by opening a message sent to it' }),
    method: z.enum(SESSION_METHODS).meta({ description: 'how this session was opened' }),
    hasSecondFactor: z.boolean().meta({ description: 'this session was opened with two factors' }),
    secondFactorDemanded: z.boolean().meta({ description: 'the organisation demands two factors' }),
    unseenNotices: z.int(),
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

/** One-time codes of the account: on or off, and how many recovery codes are left. */
export const authenticatorSchema = z.object({ isOn: z.boolean(), recoveryCodesLeft: z.int() });
/** Shown this once; in use after a first code of it was right. */
export const proposedAuthenticatorSchema = z.object({
  secret: z.string().meta({ description: 'base32, to be typed into the app' }),
  uri: z.string().meta({ description: 'otpauth://, to be shown as a QR code' }),
});
export const confirmAuthenticatorBodySchema = z.strictObject({
  code: z
    .string()
    .trim()
    .regex(/^\d{6}$/, 'six digits'),
});
export const recoveryCodesSchema = z.object({ recoveryCodes: z.array(z.string()) });
