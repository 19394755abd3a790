/** 2026-11-23 was a Monday: from there every weekday has its name. */
const MONDAY_MS = Date.UTC(2026, 10, 23);

/** ISO 8601: Monday is 1. */
export const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7] as const;

export const toWeekday = (day: number, languageTag: string): string =>
  new Intl.DateTimeFormat(languageTag, { weekday: 'long', timeZone: 'UTC' }).format(
    new Date(MONDAY_MS + (day - 1) * 86_400_000),
  );
