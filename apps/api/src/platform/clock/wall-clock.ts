/** Making a format is dear, and there are few time zones. */
const FORMATS = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string): Intl.DateTimeFormat {
  let format = FORMATS.get(timeZone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
    });
    FORMATS.set(timeZone, format);
  }
  return format;
}

/**
 * What a clock on the wall of a time zone shows at an instant, as if that were UTC.
 * @param atMs instant [ms since 1970]
 * @param timeZone IANA name, such as `Europe/Lisbon`
 */
export function wallClockMs(atMs: number, timeZone: string): number {
  const part = Object.fromEntries(
    formatOf(timeZone)
      .formatToParts(atMs)
      .map(({ type, value }) => [type, Number(value)]),
  );
  const wholeSeconds = Date.UTC(
    part.year ?? 0,
    (part.month ?? 1) - 1,
    part.day ?? 1,
    part.hour ?? 0,
    part.minute ?? 0,
    part.second ?? 0,
  );
  return wholeSeconds + (atMs - Math.floor(atMs / 1000) * 1000);
}
