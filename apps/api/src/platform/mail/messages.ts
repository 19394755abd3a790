import type { NoticeKind, Role } from '@repo/contracts';

/** What a message says: a kind and what belongs to it. */
export type Message =
  | { kind: 'invitation'; organisationName: string; invitedBy: string; displayName: string; role: Role; token: string }
  | { kind: 'forgotten-password'; displayName: string; token: string }
  | { kind: 'address-proof'; displayName: string; token: string }
  | { kind: 'notice'; displayName: string; notice: NoticeKind; details: Readonly<Record<string, string>> };

const NOTICES: Record<NoticeKind, (details: Readonly<Record<string, string>>) => string> = {
  'signed-in-on-new-device': ({ userAgent = '' }) =>
    `Somebody signed in to your account on a new device (${userAgent}).`,
  'code-guessed': () => 'Somebody gave your right password, and wrong one-time codes. Change your password.',
  'password-changed': () => 'The password of your account was changed. Other sessions have ended.',
  'password-reset': () => 'The password of your account was set anew by a link. All sessions have ended.',
  'address-changed': ({ email = '' }) => `The address of your account is now ${email}.`,
  'membership-accepted': ({ organisationName = '' }) => `Your account is now a member of ${organisationName}.`,
  'membership-changed': ({ organisationName = '', role = '' }) => `Your role at ${organisationName} is now: ${role}.`,
  'membership-ended': ({ organisationName = '' }) => `Your membership of ${organisationName} has ended.`,
  'membership-handed-over': ({ organisationName = '' }) =>
    `Your membership of ${organisationName} was taken over by another account, by a link of its administrator.`,
  'membership-waits': ({ organisationName = '' }) =>
    `Your membership of ${organisationName} waits until you accept it: ask its administrator for a link.`,
  'membership-kept': ({ organisationName = '' }) =>
    `You administer ${organisationName} by an account that another organisation began. Change your password.`,
  'member-waits': ({ organisationName = '', displayName = '' }) =>
    `The membership of ${displayName} at ${organisationName} waits: their account was begun by another organisation. Give them a link.`,
  'authenticator-added': () => 'One-time codes were switched on for your account.',
  'authenticator-removed': () => 'One-time codes were switched off for your account.',
  'recovery-code-used': () => 'A recovery code of your account was used.',
  'recovery-codes-renewed': () => 'The recovery codes of your account were made anew.',
  'passkey-added': ({ name = '' }) => `A passkey was added to your account: ${name}.`,
  'passkey-removed': ({ name = '' }) => `A passkey was removed from your account: ${name}.`,
};

/** The words of a message. Tokens stand behind the #, so that no server and no log on the way ever sees them. */
export function composeMessage(message: Message, publicUrl: string): { subject: string; text: string } {
  const link = (path: string, token: string): string => `${publicUrl.replace(/\/$/, '')}${path}#${token}`;
  const lines = (...parts: string[]): string => `${parts.join('\n\n')}\n`;
  switch (message.kind) {
    case 'invitation':
      return {
        subject: `${message.organisationName} invites you to Kedge`,
        text: lines(
          `Hello ${message.displayName},`,
          `${message.invitedBy} of ${message.organisationName} invites you to work with them in Kedge. Open this link within seven days and sign in, or make an account:`,
          link('/invitation', message.token),
          'Whoever opens the link can accept it, so do not pass it on. If you expect no such invitation, do nothing.',
        ),
      };
    case 'forgotten-password':
      return {
        subject: 'A new password for Kedge',
        text: lines(
          `Hello ${message.displayName},`,
          'Somebody, most likely you, asked for a new password. Set it within an hour by this link:',
          link('/new-password', message.token),
          'If it was not you, do nothing: your password stays as it is.',
        ),
      };
    case 'address-proof':
      return {
        subject: 'Is this your address?',
        text: lines(
          `Hello ${message.displayName},`,
          'Confirm within a day that this is the address of your Kedge account:',
          link('/address', message.token),
          'If you have no account there, do nothing.',
        ),
      };
    case 'notice':
      return {
        subject: 'About your Kedge account',
        text: lines(
          `Hello ${message.displayName},`,
          NOTICES[message.notice](message.details),
          'If that was not you, change your password and tell your administrator.',
        ),
      };
  }
}
