/** A tablet's clock, or the database's, may run ahead by so much: what it dated "now" counts as of now. */
export const CLOCK_TOLERANCE_MS = 5 * 60_000;

/** Now, for reading records that were dated by other clocks. */
export const nowOnAnyClock = (): Date => new Date(Date.now() + CLOCK_TOLERANCE_MS);

/** Has it not happened yet, on any clock? */
export const isAhead = (instant: string): boolean => Date.parse(instant) > nowOnAnyClock().getTime();
