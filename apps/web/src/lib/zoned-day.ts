/** How far a zone is ahead of UTC at an instant [ms]. */
function getOffsetMs(instantMs: number, timeZone: string): number {
  const parts = new Intl.DateTimeFormat(undefined, {
    timeZone,
    calendar: 'gregory',
    numberingSystem: 'latn',
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(new Date(instantMs));
  const at = (type: Intl.DateTimeFormatPartTypes): number =>
    Number(parts.find((part) => part.type === type)?.value ?? 0);
  return Date.UTC(at('year'), at('month') - 1, at('day'), at('hour'), at('minute'), at('second')) - instantMs;
}

/** The instant at which a wall clock in `timeZone` shows `local` (such as 2026-03-29T10:15:00). */
export function fromWallClock(local: string, timeZone: string): string {
  const asUtcMs = Date.parse(`${local}Z`);
  // Twice: the offset at the first guess may be that of the other side of a clock change.
  const guessMs = asUtcMs - getOffsetMs(asUtcMs, timeZone);
  return new Date(asUtcMs - getOffsetMs(guessMs, timeZone)).toISOString();
}

/** The last second of a calendar day where it is lived. */
export const toEndOfDay = (day: string, timeZone: string): string => fromWallClock(`${day}T23:59:59`, timeZone);

/** What a clock on the wall there shows at an instant, as 2026-11-25T10:15. */
export function toWallClock(instantMs: number, timeZone: string): string {
  return new Date(instantMs + getOffsetMs(instantMs, timeZone)).toISOString().slice(0, 16);
}

/** What a clock on the wall there shows now. */
export const getWallClock = (timeZone: string): string => toWallClock(Date.now(), timeZone);

/** Today's date where it is lived, as 2026-11-25. */
export function getToday(timeZone: string): string {
  return getWallClock(timeZone).slice(0, 10);
}

/** Newer browsers have the zone at hand; making a formatter to ask it takes a phone half a tenth of a second. */
declare const Temporal: { readonly Now: { timeZoneId: () => string } } | undefined;

/** The IANA zone that the browser runs in. */
export const getBrowserZone = (): string =>
  typeof Temporal === 'undefined' ? new Intl.DateTimeFormat().resolvedOptions().timeZone : Temporal.Now.timeZoneId();
