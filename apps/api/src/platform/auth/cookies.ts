import type { FastifyReply } from 'fastify';

export const SESSION_COOKIE = '__Host-kedge-session';
/** Says that this browser signed in to an account before. It lets nobody in; it only keeps guesses made elsewhere from slowing it. */
export const DEVICE_COOKIE = '__Host-kedge-device';

/** Binds a sign-in that leaves for a provider to the browser that it left from. */
export const PROVIDER_COOKIE = '__Host-kedge-provider';

const SHARED = { path: '/', httpOnly: true, secure: true, sameSite: 'lax' } as const;
/** The longest that browsers keep a cookie. */
const DEVICE_DAYS = 400;

export interface BegunSession {
  readonly token: string;
  readonly expiresAt: Date;
  readonly deviceToken: string;
}

export function setSessionCookies(reply: FastifyReply, { token, expiresAt, deviceToken }: BegunSession): void {
  reply.setCookie(SESSION_COOKIE, token, { ...SHARED, expires: expiresAt });
  reply.setCookie(DEVICE_COOKIE, deviceToken, { ...SHARED, maxAge: DEVICE_DAYS * 86_400 });
}

export function clearSessionCookie(reply: FastifyReply): void {
  reply.clearCookie(SESSION_COOKIE, SHARED);
}

export function setProviderCookie(reply: FastifyReply, token: string, minutes: number): void {
  reply.setCookie(PROVIDER_COOKIE, token, { ...SHARED, maxAge: minutes * 60 });
}

export function clearProviderCookie(reply: FastifyReply): void {
  reply.clearCookie(PROVIDER_COOKIE, SHARED);
}
