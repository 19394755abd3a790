/** What takes another's place begins after that one began: its period would have no length otherwise. */
export const beginsAfter = (from: Date | string, before: Date | string): boolean => new Date(from) > new Date(before);
