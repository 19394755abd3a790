import { createHmac, timingSafeEqual } from 'node:crypto';

/** How far the time of sending may be from ours, either way [s] (Standard Webhooks 1.0.0: five minutes in its libraries). */
export const TOLERANCE_S = 300;
const LONGEST_ID = 256;
const MOST_SIGNATURES = 20;

export interface SignatureHeaders {
  readonly id: string;
  readonly timestampS: number;
  /** as it was sent: leading zeros are part of what is signed */
  readonly timestamp: string;
  readonly signatures: readonly Buffer[];
}

type Header = string | string[] | undefined;

/** The three headers of a signed delivery; null when one is missing or has another form. */
export function readSignatureHeaders(headers: Readonly<Record<string, Header>>): SignatureHeaders | null {
  const id = headers['webhook-id'];
  const timestamp = headers['webhook-timestamp'];
  const signature = headers['webhook-signature'];
  if (typeof id !== 'string' || typeof timestamp !== 'string' || typeof signature !== 'string') return null;
  if (id.length > LONGEST_ID || !/^[\x21-\x7e]+$/.test(id) || !/^\d{1,12}$/.test(timestamp)) return null;
  // Other versions may stand in the list; ours is v1.
  const signatures = signature
    .split(' ', MOST_SIGNATURES)
    .filter((one) => one.startsWith('v1,'))
    .map((one) => Buffer.from(one.slice(3), 'base64'));
  return { id, timestampS: Number(timestamp), timestamp, signatures };
}

export const isWithinTolerance = (timestampS: number, nowMs: number): boolean =>
  Math.abs(Math.floor(nowMs / 1000) - timestampS) <= TOLERANCE_S;

/** Is one of the signatures that of one of the secrets, over `id.timestamp.body` with the body's bytes as they came? */
export function isSigned(headers: SignatureHeaders, body: Uint8Array, secrets: readonly Buffer[]): boolean {
  let found = false;
  for (const secret of secrets) {
    const expected = createHmac('sha256', secret).update(`${headers.id}.${headers.timestamp}.`).update(body).digest();
    for (const signature of headers.signatures) {
      // No early way out: how long it takes tells nothing about which one fits.
      found = (signature.length === expected.length && timingSafeEqual(signature, expected)) || found;
    }
  }
  return found;
}
