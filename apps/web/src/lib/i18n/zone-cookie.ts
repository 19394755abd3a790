export const ZONE_COOKIE = 'kedge-zone';

/** The zone that a cookie names; what is none counts as not said. */
export function toZone(text: string | undefined): string {
  if (text === undefined) return 'UTC';
  try {
    return new Intl.DateTimeFormat(undefined, { timeZone: decodeURIComponent(text) }).resolvedOptions().timeZone;
  } catch (error) {
    if (error instanceof RangeError || error instanceof URIError) return 'UTC';
    throw error;
  }
}
