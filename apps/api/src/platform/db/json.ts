import { Prisma } from './generated/client.js';

/** A JSON column's value; `null` in the database, never the JSON null. */
export const jsonOrNull = (value: unknown): Prisma.InputJsonValue | typeof Prisma.DbNull =>
  value === null || value === undefined ? Prisma.DbNull : (value as Prisma.InputJsonValue);
export const json = (value: unknown): Prisma.InputJsonValue => value as Prisma.InputJsonValue;
