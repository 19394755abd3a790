import { Prisma } from '../db/generated/client.js';
import { AppError, notFound } from './app-error.js';

const UNREACHABLE = new Set([
  'ECONNREFUSED',
  'ECONNRESET',
  'EPIPE',
  'ETIMEDOUT',
  'ENOTFOUND',
  '57P01',
  '57P02',
  '57P03',
  '53300',
  '08006',
  '08001',
  '08003',
  'P1001',
  'P1002',
  'P1017',
  'P2024',
  'P2028',
]);
const FULL = new Set(['53100', 'ENOSPC']);

/** The SQLSTATE or error code that lies deepest. */
function codesOf(error: unknown, depth = 0): string[] {
  if (typeof error !== 'object' || error === null || depth > 6) return [];
  const codes: string[] = [];
  for (const [key, value] of Object.entries(error as Record<string, unknown>)) {
    if ((key === 'code' || key === 'originalCode') && typeof value === 'string') codes.push(value);
  }
  const nested = error as { cause?: unknown; meta?: unknown; driverAdapterError?: unknown };
  for (const inner of [nested.cause, nested.meta, nested.driverAdapterError]) codes.push(...codesOf(inner, depth + 1));
  return codes;
}

/** The disk on which the database writes is full. */
export const isDiskFull = (error: unknown): boolean => codesOf(error).some((code) => FULL.has(code));

/** What a client may know of a database error; null when it is a fault of ours. Never a table, key or value. */
export function fromDatabaseError(error: unknown): AppError | null {
  const codes = codesOf(error);
  const has = (...wanted: string[]): boolean => wanted.some((code) => codes.includes(code));
  if (has('P2002', '23505'))
    return new AppError('request.conflict', { detail: 'A record with this name, number or id is there already.' });
  if (has('P2003', '23503', 'P2025')) return notFound();
  if (has('23514', '23P01', 'P2004'))
    return new AppError('request.conflict', { detail: 'It breaks a rule of the record.' });
  if (has('42501')) return new AppError('session.role');
  if (has('22021', '22P05'))
    return new AppError('request.malformed', { detail: 'A text holds a character that cannot be kept.' });
  if (has('40001', '40P01'))
    return new AppError('service.unavailable', { detail: 'Two changes met; try again.', retryAfterS: 1 });
  if (has('55P03'))
    return new AppError('service.unavailable', {
      detail: 'Somebody else is changing the same record; try again.',
      retryAfterS: 2,
    });
  if (isDiskFull(error)) {
    return new AppError('service.unavailable', {
      detail: 'There is no room left to write. Nothing was changed.',
      retryAfterS: 30,
    });
  }
  if (codes.some((code) => UNREACHABLE.has(code)) || error instanceof Prisma.PrismaClientInitializationError) {
    return new AppError('service.unavailable', { detail: 'The database cannot be reached just now.', retryAfterS: 5 });
  }
  if (
    error instanceof Error &&
    /Connection terminated|timeout exceeded when trying to connect|Can't reach database|server closed the connection/i.test(
      error.message,
    )
  ) {
    return new AppError('service.unavailable', { detail: 'The database cannot be reached just now.', retryAfterS: 5 });
  }
  return null;
}
