import { AppError } from '../../platform/errors/app-error.js';

/** What can be done where a file is too large to be looked at under other headings. */
export const HEADINGS_FIRST = 'Put the headings into the first row of the file, and send it again.';

/**
 * Waits for what a whole file takes in the threads of everybody; beyond their time it is the file that is too large, whose sender has no
 * inputs that could be smaller.
 * @param wayOut what can be done instead
 * @throws AppError import.too-large
 */
export async function inTime<R>(work: Promise<R>, wayOut: string): Promise<R> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof AppError && error.code === 'calculation.too-much') {
      throw new AppError('import.too-large', { detail: wayOut });
    }
    throw error;
  }
}
