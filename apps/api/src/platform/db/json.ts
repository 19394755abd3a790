import { type Prisma } from './generated/client.js';

/** A JSON column's value. */
export const json = (value: unknown): Prisma.InputJsonValue => value as Prisma.InputJsonValue;
