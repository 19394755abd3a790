/** What a change names: members that are there, and whether the record is taken off. */
export const given = <T extends object>(plain: T, archived: boolean | undefined) => ({
  ...(Object.fromEntries(Object.entries(plain).filter(([, value]) => value !== undefined)) as Partial<T>),
  ...(archived === undefined ? {} : { archivedAt: archived ? new Date() : null }),
});
